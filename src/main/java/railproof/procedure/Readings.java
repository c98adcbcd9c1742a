package railproof.procedure;

import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Consumer;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.Accuracy;
import railproof.rig.Bench;
import railproof.rig.RunEndException;
import railproof.rig.WaveformColumns;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.Section;
import railproof.run.Waveform;
import railproof.signal.Cycles;
import railproof.signal.LineFrequency;
import railproof.signal.Ripple;
import railproof.signal.Settling;

/**
 * Takes points: waits until the output has settled by measurement, captures whole line cycles, and turns the capture
 * into readings with their uncertainties.
 */
final class Readings {
    /** A tenth of a second holds 5 cycles of 50 Hz and 6 of 60 Hz: both and their harmonics average out. */
    /** Settling and looking at a strained point may each take this part of the dwell; the rest is for talking. */
    private static final int STRAINED_PCT = 45;

    private static final double LOOK_S = 0.1;
    /** Room for a line that runs slow: half a cycle more than asked for. */
    private static final double SPARE_CYCLES = 0.5;
    /** Relative standard uncertainty of the board's clock: 50 ppm crystal, rectangular. */
    private static final double CLOCK_RATIO = 50e-6 / 1.7320508;

    private static final double SINE_RMS_OF_PP_RATIO = 0.3536;

    private static final List<Quantity> NODES =
            List.of(Quantity.RAW, Quantity.BASE, Quantity.REFERENCE, Quantity.SENSE_TAP, Quantity.HEAT_SINK);

    private final Bench bench;
    private final Profile profile;
    private double lastLookV;

    Readings(Bench bench, Profile profile) {
        this.bench = bench;
        this.profile = profile;
    }

    /**
     * Waits until successive looks at the output lie within the plan's band and do not march one way.
     *
     * @return whether it settled before the plan's timeout
     */
    boolean settle(Rail rail) throws RunEndException {
        bench.pause(bench.loadSettle(rail.name()));
        double band = profile.plan().settleBandRatio() * Math.abs(rail.nominalV());
        double endS = bench.elapsedS() + profile.plan().settleTimeout().toMillis() / 1e3;
        List<Double> looks = new ArrayList<>();
        while (true) {
            lastLookV = bench.look(rail.name(), LOOK_S).meanV();
            looks.add(lastLookV);
            double[] values = looks.stream().mapToDouble(Double::doubleValue).toArray();
            if (Settling.of(values, band) == Settling.SETTLED) {
                return true;
            }
            if (bench.elapsedS() >= endS) {
                return false;
            }
        }
    }

    /** Window of an averaged look at the output, s: whole cycles of either line frequency. */
    double windowS() {
        return LOOK_S;
    }

    /** Mean output at the last look of {@link #settle}, V, signed. */
    double lastLookV() {
        return lastLookV;
    }

    /** Time that a capture of a change begins before it, s: two line cycles, so that the ripple is known. */
    double quietS() {
        return 2 / profile.line().frequencyHz();
    }

    /** What a captured change says. */
    TransientReadings transients(Rail rail, Waveform waveform) {
        Accuracy accuracy = bench.accuracies(rail.name()).getOrDefault(Quantity.OUTPUT, new Accuracy(0, 0, 0, 0));
        return new TransientReadings(rail, waveform, accuracy, profile.line().frequencyHz());
    }

    /** Mean output from a look as short as the dwell at a strained point must be, V, signed. */
    double quickV(Rail rail) throws RunEndException {
        return bench.look(rail.name(), quickS()).meanV();
    }

    /** Time to give the load after a new level at a strained point; with the look it stays within the dwell. */
    Duration quickSettle(Rail rail) {
        Duration part = profile.plan().limitDwell().multipliedBy(STRAINED_PCT).dividedBy(100);
        Duration settle = bench.loadSettle(rail.name());
        return settle.compareTo(part) < 0 ? settle : part;
    }

    /** How long such a look is, s. */
    double quickS() {
        Duration dwell = profile.plan().limitDwell();
        return Math.min(LOOK_S, dwell.toMillis() / 1e3 * STRAINED_PCT / 100);
    }

    /** Takes a point with a full capture; returns the mean output, V, signed. */
    double take(Section section, Rail rail, boolean settled, String note) throws RunEndException {
        return take(section, rail, settled, note, readings -> {});
    }

    /**
     * The same with a word in between.
     *
     * @param amend may add to the readings or change them before they are kept
     */
    double take(Section section, Rail rail, boolean settled, String note, Consumer<Map<Quantity, Reading>> amend)
            throws RunEndException {
        double hz = profile.line().frequencyHz();
        double windowS = (profile.plan().lineCycles() + SPARE_CYCLES) / hz;
        Reading current = bench.loadCurrent(rail.name());
        Waveform waveform = bench.capture(section, rail.name(), windowS);
        Map<Quantity, Accuracy> accuracies = bench.accuracies(rail.name());
        Map<Quantity, Reading> readings = bench.workOut(() -> read(waveform, accuracies));
        readings.put(Quantity.LOAD_CURRENT, current);
        amend.accept(readings);
        bench.record(waveform);
        bench.record(point(section, rail, settled, readings, OptionalInt.of(waveform.id()), note));
        return readings.getOrDefault(Quantity.OUTPUT, new Missing("no output"))
                .measured()
                .map(Measured::value)
                .orElse(0.0);
    }

    /** Keeps a captured change and what was read from it. */
    void keep(Rail rail, Waveform waveform, Map<Quantity, Reading> readings, String note) throws RunEndException {
        bench.record(waveform);
        bench.record(point(waveform.section(), rail, true, readings, OptionalInt.of(waveform.id()), note));
    }

    /** Keeps readings that were taken without a capture. */
    void keep(Section section, Rail rail, Map<Quantity, Reading> readings, String note) throws RunEndException {
        bench.record(point(section, rail, false, readings, OptionalInt.empty(), note));
    }

    /** Takes a point at a strained setting: output and current only, as short as the plan's dwell asks. */
    void takeQuick(Section section, Rail rail, String note) throws RunEndException {
        keep(section, rail, quick(rail), note);
    }

    /** The readings of such a point. */
    Map<Quantity, Reading> quick(Rail rail) throws RunEndException {
        Map<Quantity, Reading> readings = new EnumMap<>(Quantity.class);
        readings.put(Quantity.OUTPUT, output(rail, quickS()));
        readings.put(Quantity.LOAD_CURRENT, bench.loadCurrent(rail.name()));
        return readings;
    }

    /** A look at the output as a reading. */
    Reading output(Rail rail, double windowS) throws RunEndException {
        Bench.Look look = bench.look(rail.name(), windowS);
        Accuracy accuracy = bench.accuracies(rail.name()).get(Quantity.OUTPUT);
        Measured scatter = new Measured(look.meanV(), look.meanU(), 0, Double.POSITIVE_INFINITY, Unit.VOLT);
        return accuracy == null ? scatter : accuracy.level(scatter, 1);
    }

    private Point point(
            Section section,
            Rail rail,
            boolean settled,
            Map<Quantity, Reading> readings,
            OptionalInt waveform,
            String note) {
        withLeadDrop(bench, rail, readings);
        return new Point(
                bench.nextPointIndex(),
                section,
                rail.name(),
                bench.asked(rail.name()),
                bench.elapsedS(),
                settled,
                readings,
                waveform,
                note);
    }

    /** Adds to the output what the load current may have dropped in its leads. */
    static void withLeadDrop(Bench bench, Rail rail, Map<Quantity, Reading> readings) {
        Accuracy accuracy = bench.accuracies(rail.name()).get(Quantity.OUTPUT);
        if (accuracy != null
                && readings.get(Quantity.OUTPUT) instanceof Measured output
                && readings.get(Quantity.LOAD_CURRENT) instanceof Measured current) {
            readings.put(Quantity.OUTPUT, accuracy.withLeadDrop(output, current.value()));
        }
    }

    /** Turns a capture into readings. */
    Map<Quantity, Reading> read(Waveform waveform, Map<Quantity, Accuracy> accuracies) {
        Map<Quantity, Reading> readings = new EnumMap<>(Quantity.class);
        double[] line = samples(waveform, Quantity.LINE).orElse(new double[0]);
        Reading frequency = line.length == 0
                ? new Missing("the line was not captured")
                : LineFrequency.ofLine(line, waveform.rateHz());
        // with no line to lock to, the window is cut by the profile's frequency
        double hz =
                frequency.measured().map(Measured::value).orElse(profile.line().frequencyHz());
        int length = waveform.traces().get(0).samples().length;
        Cycles window =
                Cycles.in(length, waveform.rateHz(), hz).atMost(profile.plan().lineCycles());
        int samples = (int) (window.windowS() * waveform.rateHz());
        readings.put(Quantity.LINE_FREQUENCY, withClock(frequency));
        samples(waveform, Quantity.OUTPUT).ifPresent(volts -> {
            Accuracy accuracy = accuracies.getOrDefault(Quantity.OUTPUT, new Accuracy(0, 0, 0, 0));
            Ripple ripple = Ripple.of(volts, window);
            readings.put(Quantity.OUTPUT, accuracy.level(window.measuredMean(volts, Unit.VOLT), samples));
            readings.put(Quantity.RIPPLE_PP, accuracy.span(RippleReading.peakToPeak(volts, ripple, window, accuracy)));
            readings.put(
                    Quantity.RIPPLE_RMS,
                    accuracy.span(RippleReading.rms(ripple, accuracy), RippleReading.rmsShareRatio(ripple)));
        });
        if (line.length > 0) {
            Accuracy accuracy = accuracies.getOrDefault(Quantity.LINE, new Accuracy(0, 0, 0, 0));
            // of an alternating voltage: a zero of the channel adds to it in squares, next to nothing
            Measured rms = Measured.of(window.rms(line), accuracy.noiseDimensionless() / Math.sqrt(samples), Unit.VOLT);
            readings.put(Quantity.LINE, accuracy.span(rms, SINE_RMS_OF_PP_RATIO));
        }
        for (Quantity node : NODES) {
            Accuracy accuracy = accuracies.get(node);
            Optional<double[]> values = samples(waveform, node);
            if (accuracy != null && values.isPresent()) {
                readings.put(node, accuracy.level(window.measuredMean(values.get(), node.unit()), samples));
                if (node == Quantity.RAW) {
                    Ripple ripple = Ripple.of(values.get(), window);
                    readings.put(
                            Quantity.RAW_RIPPLE_PP,
                            accuracy.span(RippleReading.peakToPeak(values.get(), ripple, window, accuracy)));
                }
            }
        }
        return readings;
    }

    private static Reading withClock(Reading frequency) {
        return frequency
                .measured()
                .<Reading>map(
                        f -> new Measured(f.value(), f.randomU(), CLOCK_RATIO * f.value(), f.randomDof(), Unit.HERTZ))
                .orElse(frequency);
    }

    private static Optional<double[]> samples(Waveform waveform, Quantity node) {
        String column = WaveformColumns.of(node);
        return waveform.traces().stream()
                .filter(trace -> trace.column().equals(column))
                .map(Waveform.Trace::samples)
                .findFirst();
    }
}
