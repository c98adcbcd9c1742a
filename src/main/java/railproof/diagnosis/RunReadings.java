package railproof.diagnosis;

import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.LimitShape;
import railproof.profile.LineRating;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.profile.RectifierKind;
import railproof.run.ChannelAccuracy;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.Section;
import railproof.run.Waveform;
import railproof.signal.Reservoir;

/** Finds in an archived run what a diagnosis of one rail can use. Pure. */
public final class RunReadings {
    /** A load counts as the one wanted within this share of the rated current, a line within this of the wanted one. */
    private static final double SAME_LOAD_RATIO = 0.06;

    private static final double SAME_LINE_RATIO = 0.03;
    /** A board's noise where the run does not say, V r.m.s. over the nominal output. */
    private static final double NOISE_RATIO = 5e-5;

    private static final String TRIPPED = "tripped";
    private static final double STILL_RISING = 1.2;
    private static final double STILL_RISING_U = 0.12;
    private static final int LEAST_LOOKS = 10;
    private static final double DIP_S = 1e-3;
    private static final double AFTER_S = 3e-3;

    private final RunData run;
    private final LineRating line;
    private final Rail rail;
    private final double signRatio;
    private final Map<Feature, Measured> into = new LinkedHashMap<>();

    private RunReadings(RunData run, LineRating line, Rail rail) {
        this.run = run;
        this.line = line;
        this.rail = rail;
        this.signRatio = Math.signum(rail.nominalV());
    }

    /** What the run has of a rail. */
    public static Readings of(RunData run, Profile profile, Rail rail) {
        RunReadings reader = new RunReadings(run, profile.line(), rail);
        reader.read();
        return new Readings(reader.into);
    }

    private void read() {
        find(Section.NO_LOAD, line.nominalV(), this::unloaded)
                .or(() -> run.points(Section.NO_LOAD, rail.name()).stream()
                        .filter(point -> point.note().startsWith(TRIPPED))
                        .findFirst())
                .or(() -> find(Section.LOAD_SWEEP, line.nominalV(), this::unloaded))
                .ifPresent(point -> take(point, Condition.NO_LOAD));
        loaded(Section.LOAD_SWEEP, Condition.HALF_LOAD, line.nominalV());
        loaded(Section.LOAD_SWEEP, Condition.FULL_LOAD, line.nominalV());
        loaded(Section.LINE_SWEEP, Condition.LOW_LINE, line.lowV());
        loaded(Section.LINE_SWEEP, Condition.HIGH_LINE, line.highV());
        last(run.points(Section.BURN_IN_HOT, rail.name())).ifPresent(point -> take(point, Condition.WARM));
        loadTests();
        dips();
    }

    private boolean unloaded(Point point) {
        return point.asked().mode().equals("off") || point.asked().level() <= rail.minimumLoadA() + 1e-9;
    }

    private void loaded(Section section, Condition at, double lineV) {
        double wantedA = at.loadRatio() * rail.ratedCurrentA();
        find(
                        section,
                        lineV,
                        point -> point.asked().mode().equals("CC")
                                && Math.abs(point.asked().level() - wantedA) <= SAME_LOAD_RATIO * rail.ratedCurrentA())
                .ifPresent(point -> take(point, at));
    }

    private Optional<Point> find(Section section, double lineV, Predicate<Point> wanted) {
        return run.points(section, rail.name()).stream()
                .filter(point -> Math.abs(point.asked().lineV() - lineV) <= SAME_LINE_RATIO * lineV)
                .filter(wanted)
                .findFirst();
    }

    private static Optional<Point> last(List<Point> points) {
        return points.isEmpty() ? Optional.empty() : Optional.of(points.get(points.size() - 1));
    }

    private void take(Point point, Condition at) {
        if (point.note().startsWith(TRIPPED)) {
            // everything went off while the output was still rising: all that is known is that it went beyond
            voltage(point, Quantity.OUTPUT)
                    .map(Measured::value)
                    .filter(volts -> volts > rail.overVoltageV())
                    .ifPresent(volts -> put(
                            Sight.OUTPUT, at, Measured.of(STILL_RISING * volts, STILL_RISING_U * volts, Unit.VOLT)));
            return;
        }
        Optional<Measured> output = voltage(point, Quantity.OUTPUT);
        output.ifPresent(value -> put(Sight.OUTPUT, at, value));
        voltage(point, Quantity.RAW).ifPresent(value -> put(Sight.RAW, at, value));
        voltage(point, Quantity.REFERENCE).ifPresent(value -> put(Sight.REFERENCE, at, value));
        voltage(point, Quantity.SENSE_TAP).ifPresent(value -> put(Sight.SENSE_TAP, at, value));
        voltage(point, Quantity.BASE)
                .ifPresent(base -> output.ifPresent(out -> put(
                        Sight.BASE,
                        at,
                        Measured.of(
                                base.value() - out.value(),
                                Math.hypot(base.standardU(), out.standardU()),
                                Unit.VOLT))));
        point.reading(Quantity.RIPPLE_PP).measured().ifPresent(value -> put(Sight.OUTPUT_RIPPLE, at, value));
        point.reading(Quantity.RAW_RIPPLE_PP).measured().ifPresent(value -> put(Sight.RAW_RIPPLE, at, value));
        point.reading(Quantity.HEAT_SINK).measured().ifPresent(value -> put(Sight.HEAT_SINK, at, value));
        point.reading(Quantity.LINE).measured().ifPresent(value -> {
            if (point.asked().lineV() > 0) {
                Measured ratio = value.times(1 / point.asked().lineV());
                put(Sight.LINE, Condition.FULL_LOAD, Measured.of(ratio.value(), ratio.standardU(), Unit.RATIO));
            }
        });
        point.waveform().ifPresent(id -> waves(id, at, point));
    }

    private void waves(int id, Condition at, Point point) {
        double lineHz = point.reading(Quantity.LINE_FREQUENCY)
                .measured()
                .map(Measured::value)
                .filter(hz -> hz > 40 && hz < 70)
                .orElse(line.frequencyHz());
        run.waveforms().stream().filter(wave -> wave.id() == id).findFirst().ifPresent(wave -> {
            trace(wave, "output_V")
                    .ifPresent(v -> WaveReadings.output(
                            into, at, new WaveReadings.Trace(v, wave.rateHz(), noiseV(Quantity.OUTPUT)), lineHz));
            trace(wave, "raw_V")
                    .ifPresent(v -> WaveReadings.raw(
                            into,
                            at,
                            new WaveReadings.Trace(v, wave.rateHz(), noiseV(Quantity.RAW)),
                            rectifier(),
                            lineHz));
        });
    }

    private Reservoir.Rectifier rectifier() {
        return rail.parts()
                        .filter(p -> p.rectifier() == RectifierKind.HALF_WAVE)
                        .isPresent()
                ? Reservoir.Rectifier.HALF_WAVE
                : Reservoir.Rectifier.FULL_WAVE;
    }

    /** A channel of a capture, upright. */
    private Optional<double[]> trace(Waveform wave, String column) {
        return wave.traces().stream()
                .filter(trace -> trace.column().equals(column))
                .findFirst()
                .map(trace -> {
                    double[] upright = trace.samples().clone();
                    for (int i = 0; i < upright.length; i++) {
                        upright[i] *= signRatio;
                    }
                    return upright;
                });
    }

    private double noiseV(Quantity quantity) {
        return run.events().stream()
                .filter(RunEvent.ChannelUsed.class::isInstance)
                .map(event -> ((RunEvent.ChannelUsed) event).accuracy())
                .filter(a -> a.rail().equals(rail.name()) && a.quantity() == quantity)
                .mapToDouble(ChannelAccuracy::noiseRmsDimensionless)
                .filter(noise -> noise > 0)
                .findFirst()
                .orElse(NOISE_RATIO * Math.abs(rail.nominalV()));
    }

    private Optional<Measured> voltage(Point point, Quantity quantity) {
        return point.reading(quantity).measured().map(value -> value.times(signRatio));
    }

    private void put(Sight sight, Condition at, Measured value) {
        Feature.of(sight, at).ifPresent(feature -> into.put(feature, value));
    }

    private void loadTests() {
        List<Point> search = run.points(Section.CURRENT_LIMIT, rail.name()).stream()
                .filter(point -> point.asked().mode().equals("CC"))
                .toList();
        double carriedA = search.stream()
                .filter(point -> point.note().isEmpty())
                .mapToDouble(point -> point.asked().level())
                .max()
                .orElse(0);
        search.stream()
                .filter(point -> point.note().startsWith("collapsed"))
                .mapToDouble(point -> point.asked().level())
                .min()
                .ifPresentOrElse(
                        collapsedA -> {
                            double lowA = carriedA > 0 ? carriedA : Math.min(collapsedA, 0.9 * collapsedA);
                            limit(0.5 * (lowA + collapsedA), 0.3 * (collapsedA - lowA));
                        },
                        () -> {
                            if (carriedA >= 0.97 * rail.maxProbeCurrentA()) {
                                limit(rail.maxProbeCurrentA(), 0);
                            }
                        });
        run.points(Section.CURRENT_LIMIT, rail.name()).stream()
                .filter(point -> point.asked().mode().equals("CR"))
                // what a limit that latches leaves of the current says nothing of the part that sets it
                .filter(point -> rail.limitShape() != LimitShape.LATCHING)
                .min(Comparator.comparingDouble(point -> point.asked().level()))
                .flatMap(point -> point.reading(Quantity.LOAD_CURRENT).measured())
                .ifPresent(value -> put(Sight.SHORT, Condition.FULL_LOAD, value));
        run.waveforms().stream()
                .filter(wave ->
                        wave.section() == Section.LOAD_STEP && wave.rail().equals(rail.name()))
                .findFirst()
                .flatMap(wave -> trace(wave, "output_V").map(v -> dipV(v, wave.rateHz())))
                .ifPresent(dip ->
                        put(Sight.UNDERSHOOT, Condition.FULL_LOAD, Measured.of(dip, 0.1 * dip + 1e-3, Unit.VOLT)));
    }

    private void limit(double limitA, double u) {
        put(Sight.LIMIT, Condition.FULL_LOAD, Measured.of(limitA, u + 0.01 * limitA, Unit.AMPERE));
    }

    /** How far the output dips below where it is one to three milliseconds later. */
    private static double dipV(double[] v, double rateHz) {
        int lowest = 0;
        for (int i = 1; i < v.length; i++) {
            lowest = v[i] < v[lowest] ? i : lowest;
        }
        int from = Math.min(v.length - 1, lowest + (int) Math.ceil(DIP_S * rateHz));
        int to = Math.min(v.length, Math.max(from + 1, lowest + (int) Math.ceil(AFTER_S * rateHz)));
        double sum = 0;
        for (int i = from; i < to; i++) {
            sum += v[i];
        }
        return Math.max(0, sum / (to - from) - v[lowest]);
    }

    /** A burn-in looks every few seconds: what falls between looks and comes back is seen there. */
    private void dips() {
        double[] looks = run.points(Section.BURN_IN, rail.name()).stream()
                .filter(point -> point.asked().mode().equals("CC"))
                .map(point -> voltage(point, Quantity.OUTPUT))
                .flatMap(Optional::stream)
                .mapToDouble(Measured::value)
                .sorted()
                .toArray();
        if (looks.length < LEAST_LOOKS) {
            return;
        }
        double dip = looks[looks.length / 2] - looks[0];
        put(Sight.OUTPUT_DIP, Condition.FULL_LOAD, Measured.of(dip, 1e-3, Unit.VOLT));
    }
}
