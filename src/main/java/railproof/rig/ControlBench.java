package railproof.rig;

import java.time.Duration;
import java.util.DoubleSummaryStatistics;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Supplier;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.instrument.BoardStatus;
import railproof.instrument.BoardTrip;
import railproof.instrument.ElectronicLoad;
import railproof.instrument.LoadMode;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.run.Waveform;

/** The bench over a real (or simulated: it cannot tell) rig. Thread: control thread only. */
final class ControlBench implements Bench {
    /** How long a limit must be broken before the board trips, µs. */
    static final int TRIP_DELAY_US = 1000;

    private static final Duration OPERATOR_LOOK = Duration.ofMillis(50);

    private final Rig rig;
    private final BenchTalk talk;
    private final Operator operator;
    private final LineSide line;
    private final LoadSide loads;
    private final BoardSight sight;
    private final GlanceKeeper glance;
    private final Map<String, Section> sections = new HashMap<>();
    private final RailWatch watch;
    private boolean wasEnergised;
    private int points;
    private int waveforms;

    ControlBench(Rig rig, BenchTalk talk, Operator operator, LineFeed feed, RunStart start) {
        this.points = start.nextPoint();
        this.waveforms = start.nextWaveform();
        this.rig = rig;
        this.talk = talk;
        this.operator = operator;
        this.glance = new GlanceKeeper(operator);
        this.sight = new BoardSight(rig, talk);
        Contacts contacts = new Contacts(rig, talk);
        this.line = new LineSide(rig, talk, operator, feed, sight, contacts);
        this.loads = new LoadSide(rig, talk, contacts, new LoadLeads(rig, talk, sight, contacts, this::ask));
        this.watch = new RailWatch(rig, talk, sight, loads, line, this::look);
        talk.onTrip(this::explainTrip);
        rig.board().onTripped(this::loadsOffAtOnce);
        talk.onCare(watch::care);
    }

    @Override
    public double elapsedS() {
        return talk.elapsedS();
    }

    @Override
    public void envelope(String rail, Envelope envelope) throws RunEndException {
        Channel output = loads.at(rail).output();
        int low = sight.code(output, envelope.lowV());
        int high = sight.code(output, envelope.highV());
        loads.envelope(rail, envelope);
        talk.command(
                () -> rig.board().tripLimit(output.index(), Math.min(low, high), Math.max(low, high), TRIP_DELAY_US));
    }

    @Override
    public void lineOn(double rmsV, double frequencyHz) throws RunEndException {
        if (!loads.everyRailHasItsEnvelope()) {
            throw new IllegalStateException("line on before every rail has its envelope");
        }
        if (!wasEnergised) {
            watch.requireDead();
            wasEnergised = true;
        }
        // said before it is so: a line that is turned up by hand is live for minutes before it is where it should be
        glance.line(rmsV);
        line.on(rmsV, frequencyHz);
        glance.line(line.askedV());
    }

    @Override
    public void lineOff() throws RunEndException {
        line.off();
        glance.line(0);
    }

    @Override
    public boolean lineAdjustable() {
        return line.adjustable();
    }

    @Override
    public double lineBandRatio() {
        return line.bandRatio();
    }

    @Override
    public boolean lineSwitchesUnderLoad() {
        return line.switchesUnderLoad();
    }

    @Override
    public void lineSwitch(boolean on) throws RunEndException {
        if (on) {
            glance.line(line.askedV());
        }
        line.switchUnderLoad(on);
        glance.line(on ? line.askedV() : 0);
    }

    @Override
    public Reading lineCurrent() throws RunEndException {
        return line.current();
    }

    @Override
    public double lineAskedV() {
        return line.askedV();
    }

    @Override
    public void load(String rail, LoadMode mode, double level) throws RunEndException {
        loads.set(rail, mode, level);
        glance.loads(rail, loads.on(line.askedV()));
    }

    @Override
    public void loadInput(String rail, boolean on) throws RunEndException {
        loads.input(rail, on);
        glance.loads(rail, loads.on(line.askedV()));
    }

    @Override
    public boolean sharesLoad(String rail, String other) {
        return loads.at(rail).load() == loads.at(other).load();
    }

    @Override
    public Setpoint asked(String rail) {
        return loads.asked(rail, line.askedV());
    }

    @Override
    public Duration loadSettle(String rail) {
        return loads.at(rail).loadSettle();
    }

    @Override
    public double loadMinimumV(String rail) {
        return loads.at(rail).loadMinimumV();
    }

    /** The rails that can hold a hazardous voltage and were to be energised. */
    List<RailPosition> hazardousLive() {
        return rig.positions().stream()
                .filter(position -> {
                    Envelope envelope = loads.envelopes().get(position.rail());
                    return envelope != null && envelope.overVoltageV() > DischargeWatch.LIMIT_V;
                })
                .toList();
    }

    @Override
    public Look look(String rail, double windowS) throws RunEndException {
        Look look = sight.look(loads.at(rail).output(), windowS);
        glance.output(rail, look.meanV());
        watch.saw(rail, look);
        checkEnvelope(rail, look.meanV(), look.minV(), look.maxV());
        return look;
    }

    @Override
    public Reading average(String rail, Quantity quantity, double windowS) throws RunEndException {
        Channel channel = loads.at(rail).channels().get(quantity);
        return channel == null
                ? new Missing("no channel for " + quantity.column())
                : sight.average(channel, windowS, quantity.unit());
    }

    /** OFF past all protocol, before anything is written down: the record can wait, the unit cannot. */
    private void loadsOffAtOnce() {
        rig.loads().forEach(ElectronicLoad::emergencyOff);
    }

    private void checkEnvelope(String rail, double meanV, double minV, double maxV) throws RunEndException {
        Envelope envelope = loads.envelopes().get(rail);
        String breach = envelope == null ? "" : envelope.breach(rail, meanV);
        if (!breach.isEmpty()) {
            loadsOffAtOnce();
            recordBreach(rail, meanV);
            throw new RunEndException(
                    RunOutcome.End.TRIPPED,
                    breach + sight.rangeEnd(loads.at(rail).output(), minV, maxV));
        }
    }

    /**
     * Why the board switched everything off. A broken limit is the unit's doing: it trips the run, and what the board
     * saw is a point of the record.
     */
    private RunEndException explainTrip(BoardStatus status) throws RunEndException {
        loadsOffAtOnce();
        Optional<BoardTrip> trip = talk.exchange(() -> rig.board().trip());
        int channel = trip.map(t -> t.channel().orElse(-1)).orElse(-1);
        for (RailPosition position : rig.positions()) {
            Envelope envelope = loads.envelopes().get(position.rail());
            if (position.output().index() == channel && envelope != null) {
                double seenV =
                        sight.value(position.output(), trip.map(BoardTrip::code).orElse(0));
                recordBreach(position.rail(), seenV);
                String breach = envelope.breach(position.rail(), seenV);
                return new RunEndException(
                        wasEnergised ? RunOutcome.End.TRIPPED : RunOutcome.End.FAULTED,
                        (breach.isEmpty() ? "limit of " + position.rail() + " broken" : breach)
                                + sight.rangeEnd(position.output(), seenV, seenV)
                                + (wasEnergised ? "" : " before anything was switched on: wiring, or a broken input")
                                + "; the board switched everything off by itself");
            }
        }
        if (status.faults().contains("INTERLOCK_OPEN")) {
            return new RunEndException(
                    RunOutcome.End.STOPPED,
                    "an interlock or emergency stop was open for a moment; the board switched everything off by itself");
        }
        if (status.faults().contains("HOST_SILENT")) {
            String waiting = rig.guard()
                    .longestWait()
                    .map(link -> ": the program was waiting for \"" + link + "\"")
                    .orElse("");
            return new RunEndException(
                    RunOutcome.End.FAULTED,
                    "the board tripped: HOST_SILENT, it heard nothing for "
                            + rig.wiring().heartbeatTimeout().toMillis() + " ms" + waiting);
        }
        return new RunEndException(
                status.faults().contains("OVERTEMPERATURE") ? RunOutcome.End.TRIPPED : RunOutcome.End.FAULTED,
                "the board tripped: " + String.join(", ", status.faults()));
    }

    /** The reading that ends the run is a point of the record, so that it can be judged. */
    private void recordBreach(String rail, double meanV) throws RunEndException {
        Measured output = loads.at(rail).output().accuracy().level(Measured.of(meanV, 0, Unit.VOLT), 1);
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
        RailPosition position = loads.at(rail);
        if (!loads.inputOn(position)) {
            return Measured.of(0, 0, Unit.AMPERE);
        }
        double currentA = watch.measured(position).currentA();
        return position.loadAccuracy().level(Measured.of(currentA, 0, Unit.AMPERE), 1);
    }

    @Override
    public Waveform capture(Section section, String rail, double windowS) throws RunEndException {
        double startS = elapsedS();
        BoardSight.Capture capture = sight.capture(loads.at(rail).channels(), windowS);
        DoubleSummaryStatistics outputV = capture.outputV();
        checkEnvelope(rail, outputV.getAverage(), outputV.getMin(), outputV.getMax());
        return new Waveform(waveforms++, section, rail, startS, capture.rateHz(), capture.traces());
    }

    @Override
    public Waveform captureDuring(Section section, String rail, Span span, Deed deed) throws RunEndException {
        double startS = elapsedS();
        Map<Quantity, Channel> output = Map.of(Quantity.OUTPUT, loads.at(rail).output());
        double windowS = span.beforeS() + span.afterS();
        BoardSight.Capture capture = sight.capture(output, windowS, () -> {
            talk.pause(Duration.ofNanos(Math.round(1e9 * span.beforeS())));
            deed.run();
        });
        return new Waveform(waveforms++, section, rail, startS, capture.rateHz(), capture.traces());
    }

    @Override
    public Map<Quantity, Accuracy> accuracies(String rail) {
        Map<Quantity, Accuracy> accuracies = new EnumMap<>(Quantity.class);
        loads.at(rail).channels().forEach((quantity, channel) -> accuracies.put(quantity, channel.accuracy()));
        accuracies.put(Quantity.LINE, rig.lineChannel().accuracy());
        return accuracies;
    }

    @Override
    public void pause(Duration duration) throws RunEndException {
        talk.pause(duration);
    }

    @Override
    public <T> T workOut(Supplier<T> task) throws RunEndException {
        return talk.workOut(task);
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
