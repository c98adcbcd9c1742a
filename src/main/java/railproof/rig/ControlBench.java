package railproof.rig;

import java.time.Duration;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.instrument.BoardStatus;
import railproof.instrument.BoardTrip;
import railproof.instrument.LoadMode;
import railproof.instrument.LoadProtection;
import railproof.instrument.LoadReading;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.run.Waveform;

/** The bench over a real (or simulated: it cannot tell) rig. Thread: control thread only. */
final class ControlBench implements Bench, LineFeed.LineAccess {
    private static final int TRIP_DELAY_US = 1000;
    private static final Duration OPERATOR_LOOK = Duration.ofMillis(50);

    private final Rig rig;
    private final BenchTalk talk;
    private final Operator operator;
    private final LineFeed line;
    private final BoardSight sight;
    private final Map<String, RailPosition> positions = new HashMap<>();
    private final Map<String, Envelope> envelopes = new HashMap<>();
    private final Map<String, LoadMode> modes = new HashMap<>();
    private final Map<String, Double> levels = new HashMap<>();
    private final Map<String, Boolean> inputs = new HashMap<>();
    private final Map<String, Section> sections = new HashMap<>();
    private double lineAskedV;
    private boolean contactorOn;
    private int relaysOn;
    private int points;
    private int waveforms;

    ControlBench(Rig rig, BenchTalk talk, Operator operator, LineFeed line, RunStart start) {
        this.points = start.nextPoint();
        this.waveforms = start.nextWaveform();
        this.rig = rig;
        this.talk = talk;
        this.operator = operator;
        this.line = line;
        this.sight = new BoardSight(rig, talk);
        talk.onTrip(this::explainTrip);
        for (RailPosition position : rig.positions()) {
            positions.put(position.rail(), position);
            inputs.put(position.load().name(), false);
        }
    }

    private RailPosition at(String rail) {
        RailPosition position = positions.get(rail);
        if (position == null) {
            throw new IllegalArgumentException("no position for rail " + rail);
        }
        return position;
    }

    @Override
    public double elapsedS() {
        return talk.elapsedS();
    }

    @Override
    public void envelope(String rail, Envelope envelope) throws RunEndException {
        RailPosition position = at(rail);
        Channel output = position.output();
        int low = sight.code(output, envelope.lowV());
        int high = sight.code(output, envelope.highV());
        talk.exchange(() -> {
            position.load()
                    .protect(new LoadProtection(
                            envelope.overCurrentA(),
                            envelope.overVoltageV(),
                            envelope.overCurrentA() * envelope.overVoltageV()));
            rig.board().tripLimit(output.index(), Math.min(low, high), Math.max(low, high), TRIP_DELAY_US);
            return position;
        });
        envelopes.put(rail, envelope);
    }

    @Override
    public void lineOn(double rmsV, double frequencyHz) throws RunEndException {
        if (!envelopes.keySet().containsAll(positions.keySet())) {
            throw new IllegalStateException("line on before every rail has its envelope");
        }
        rig.guard().energised(true);
        line.on(this, rmsV, frequencyHz);
        lineAskedV = rmsV;
    }

    @Override
    public void lineOff() throws RunEndException {
        line.off(this);
        lineAskedV = 0;
    }

    @Override
    public double lineAskedV() {
        return lineAskedV;
    }

    @Override
    public void lineRelay(boolean on) throws RunEndException {
        switchRelay(rig.wiring().lineRelayMask(), on);
    }

    /** Relays are switched with the contactor open only; the board refuses anything else. */
    private void switchRelay(int mask, boolean on) throws RunEndException {
        int wanted = on ? relaysOn | mask : relaysOn & ~mask;
        if (wanted == relaysOn) {
            return;
        }
        if (contactorOn) {
            exchange(() -> rig.board().loadEnable(false));
            contactorOn = false;
        }
        exchange(() -> rig.board().relays(mask, on ? mask : 0));
        relaysOn = wanted;
    }

    @Override
    public double measureLineV() throws RunEndException {
        return sight.lineV();
    }

    @Override
    public void exchange(LineFeed.Exchange exchange) throws RunEndException {
        talk.exchange(() -> {
            exchange.run();
            return exchange;
        });
    }

    @Override
    public void load(String rail, LoadMode mode, double level) throws RunEndException {
        Envelope envelope = envelopes.get(rail);
        if (envelope == null) {
            throw new IllegalStateException("load on " + rail + " before its envelope");
        }
        if (mode == LoadMode.CURRENT && level > envelope.overCurrentA()) {
            throw new IllegalArgumentException(
                    "asked for " + level + " A on " + rail + ", envelope allows " + envelope.overCurrentA());
        }
        exchange(() -> at(rail).load().set(mode, level));
        modes.put(rail, mode);
        levels.put(rail, level);
    }

    @Override
    public void loadInput(String rail, boolean on) throws RunEndException {
        RailPosition position = at(rail);
        if (on) {
            close(position);
        }
        exchange(() -> position.load().input(on));
        inputs.put(position.load().name(), on);
    }

    /** Closes every contact between rail and load while the load's input is still off: contacts never switch current. */
    private void close(RailPosition position) throws RunEndException {
        rig.guard().energised(true);
        switchRelay(position.loadRelayMask(), true);
        if (rig.wiring().loadContactor() && !contactorOn) {
            exchange(() -> rig.board().loadEnable(true));
            contactorOn = true;
        }
    }

    private boolean inputOn(RailPosition position) {
        return inputs.getOrDefault(position.load().name(), false);
    }

    @Override
    public Setpoint asked(String rail) {
        LoadMode mode = modes.get(rail);
        if (mode == null || !inputOn(at(rail))) {
            return Setpoint.noLoad(lineAskedV);
        }
        String name =
                switch (mode) {
                    case CURRENT -> "CC";
                    case VOLTAGE -> "CV";
                    case RESISTANCE -> "CR";
                };
        return new Setpoint(name, levels.getOrDefault(rail, 0.0), lineAskedV);
    }

    @Override
    public Duration loadSettle(String rail) {
        return at(rail).loadSettle();
    }

    @Override
    public double loadMinimumV(String rail) {
        return at(rail).loadMinimumV();
    }

    @Override
    public Look look(String rail, double windowS) throws RunEndException {
        Look look = sight.look(at(rail).output(), windowS);
        checkEnvelope(rail, look.meanV());
        return look;
    }

    @Override
    public Reading average(String rail, Quantity quantity, double windowS) throws RunEndException {
        Channel channel = at(rail).channels().get(quantity);
        return channel == null
                ? new Missing("no channel for " + quantity.column())
                : sight.average(channel, windowS, quantity.unit());
    }

    private void checkEnvelope(String rail, double meanV) throws RunEndException {
        Envelope envelope = envelopes.get(rail);
        String breach = envelope == null ? "" : envelope.breach(rail, meanV);
        if (!breach.isEmpty()) {
            recordBreach(rail, meanV);
            throw new RunEndException(RunOutcome.End.TRIPPED, breach);
        }
    }

    /**
     * Why the board switched everything off. A broken limit is the unit's doing: it trips the run, and what the board
     * saw is a point of the record.
     */
    private RunEndException explainTrip(BoardStatus status) throws RunEndException {
        Optional<BoardTrip> trip = talk.exchange(() -> rig.board().trip());
        int channel = trip.map(t -> t.channel().orElse(-1)).orElse(-1);
        for (RailPosition position : rig.positions()) {
            Envelope envelope = envelopes.get(position.rail());
            if (position.output().index() == channel && envelope != null) {
                double seenV =
                        sight.value(position.output(), trip.map(BoardTrip::code).orElse(0));
                recordBreach(position.rail(), seenV);
                String breach = envelope.breach(position.rail(), seenV);
                return new RunEndException(
                        RunOutcome.End.TRIPPED,
                        (breach.isEmpty() ? "limit of " + position.rail() + " broken" : breach)
                                + "; the board switched everything off by itself");
            }
        }
        return new RunEndException(
                status.faults().contains("OVERTEMPERATURE") ? RunOutcome.End.TRIPPED : RunOutcome.End.FAULTED,
                "the board tripped: " + String.join(", ", status.faults()));
    }

    /** The reading that ends the run is a point of the record, so that it can be judged. */
    private void recordBreach(String rail, double meanV) throws RunEndException {
        Measured output = at(rail).output().accuracy().level(Measured.of(meanV, 0, Unit.VOLT), 1);
        record(new Point(
                points,
                sections.getOrDefault(rail, Section.NO_LOAD),
                rail,
                asked(rail),
                elapsedS(),
                false,
                Map.of(Quantity.OUTPUT, output),
                OptionalInt.empty(),
                "tripped"));
    }

    @Override
    public Reading loadCurrent(String rail) throws RunEndException {
        RailPosition position = at(rail);
        if (!inputOn(position)) {
            return Measured.of(0, 0, Unit.AMPERE);
        }
        LoadReading reading = talk.exchange(() -> position.load().measure());
        return position.loadAccuracy().level(Measured.of(reading.currentA(), 0, Unit.AMPERE), 1);
    }

    @Override
    public Waveform capture(Section section, String rail, double windowS) throws RunEndException {
        double startS = elapsedS();
        BoardSight.Capture capture = sight.capture(at(rail).channels(), windowS);
        checkEnvelope(rail, capture.outputMeanV());
        return new Waveform(waveforms++, section, rail, startS, capture.rateHz(), capture.traces());
    }

    @Override
    public Map<Quantity, Accuracy> accuracies(String rail) {
        Map<Quantity, Accuracy> accuracies = new EnumMap<>(Quantity.class);
        at(rail).channels().forEach((quantity, channel) -> accuracies.put(quantity, channel.accuracy()));
        accuracies.put(Quantity.LINE, rig.lineChannel().accuracy());
        return accuracies;
    }

    @Override
    public void pause(Duration duration) throws RunEndException {
        talk.pause(duration);
    }

    @Override
    public void show(String text) {
        operator.ask(text);
    }

    @Override
    public void withdraw() {
        operator.withdraw();
    }

    @Override
    public String ask(String text) throws RunEndException {
        talk.emit(new RunEvent.PromptShown(elapsedS(), text));
        operator.ask(text);
        long looks = rig.wiring().patience().dividedBy(OPERATOR_LOOK);
        for (long i = 0; i < looks; i++) {
            Optional<String> answer = operator.answer();
            if (answer.isPresent()) {
                operator.withdraw();
                talk.emit(new RunEvent.PromptAnswered(elapsedS(), answer.get()));
                return answer.get();
            }
            talk.pause(OPERATOR_LOOK);
        }
        operator.withdraw();
        throw new RunEndException(
                RunOutcome.End.STOPPED,
                String.format(
                        Locale.ROOT,
                        "nobody answered within %d s: %s",
                        rig.wiring().patience().toSeconds(),
                        text));
    }

    @Override
    public int nextPointIndex() {
        return points;
    }

    @Override
    public void record(Point point) throws RunEndException {
        points = point.index() + 1;
        talk.emit(new RunEvent.PointTaken(elapsedS(), point));
    }

    @Override
    public void record(Waveform waveform) throws RunEndException {
        talk.emit(new RunEvent.WaveformTaken(elapsedS(), waveform));
    }

    @Override
    public void section(Section section, String rail, int pointsPlanned) throws RunEndException {
        sections.put(rail, section);
        talk.emit(new RunEvent.SectionStarted(elapsedS(), section, rail, pointsPlanned));
    }

    @Override
    public void note(RunEvent.Note.Level level, String text) throws RunEndException {
        talk.emit(new RunEvent.Note(elapsedS(), level, text));
    }
}
