package railproof.signal;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import railproof.base.Measured;

/**
 * What a traced limit curve shows: where the limit sets in, what flows into a short, and how the rail limits.
 *
 * <p>A load at constant current can only be trusted up to the first drop: beyond it, it drags the output to its own
 * floor and holds it there. So the onset is bracketed by the last level the rail held and the first it did not; the
 * rest of the curve must come from points taken at constant resistance or voltage. "Held" means: the output is not
 * more than {@value #DROP_RATIO} of the reference below it.
 *
 * <p>Thread: immutable; any.
 *
 * @param onset where the limit sets in; empty if it did not
 * @param highestHeldA the largest current drawn with the output held, A; 0 if none
 * @param shortCircuit the point nearest to a short; empty if the output never fell below half the reference
 * @param shape how the rail limits
 * @param sagged whether the output left its band while the load still got the current it asked for: out of raw voltage
 *     or regulation, not limited
 */
public record LimitTrace(
        Optional<Onset> onset, double highestHeldA, Optional<TracePoint> shortCircuit, Shape shape, boolean sagged) {
    /** The output counts as held down to this share below the reference. */
    public static final double DROP_RATIO = 0.05;

    private static final double STAYS_DOWN_RATIO = 0.1;
    private static final double FOLDBACK_BELOW_RATIO = 0.85;
    private static final double CONSTANT_UP_TO_RATIO = 1.20;
    private static final double STILL_FOLLOWED_RATIO = 0.95;

    /** How a point was taken. */
    public enum Mode {
        /** Constant current, rising. */
        CONSTANT_CURRENT,
        /** Constant resistance or voltage. */
        TRACED
    }

    /** How a rail limits: short-circuit current over onset within 0.85 to 1.20 is constant, below is foldback. */
    public enum Shape {
        /** About the same current down to a short. */
        CONSTANT_CURRENT,
        /** Less current into a short than at the onset. */
        FOLDBACK,
        /** Down, and stays down when the load has gone. */
        LATCHING,
        /** No limit up to the largest current tried. */
        NONE,
        /** The points do not tell. */
        UNCLEAR
    }

    /**
     * Where the limit sets in: anywhere within half a step of a value, known no better than the reading beside it.
     *
     * @param valueA middle of the bracket, A
     * @param halfStepA half its width, A
     * @param beside the reading of the load current that the bracket leans on
     */
    public record Onset(double valueA, double halfStepA, Measured beside) {
        /** The current with its standard uncertainty: half-width over √3 (GUM 4.3.7) and the reading's own. */
        public Measured current() {
            double random = Math.hypot(beside.randomU(), halfStepA / Math.sqrt(3));
            double ratio = beside.randomU() > 0 ? random / beside.randomU() : Double.POSITIVE_INFINITY;
            return new Measured(
                    valueA, random, beside.sharedU(), beside.randomDof() * Math.pow(ratio, 4), beside.unit());
        }

        /** The coverage factor: where the step rules, U must not reach beyond the bracket, as k = 2 would. */
        public double coverageFactor(Coverage level) {
            if (halfStepA > 0 && Double.isInfinite(beside.effectiveDof())) {
                return level.rectangleAndNormalFactor(halfStepA, beside.standardU());
            }
            return UncertaintyBudget.of(
                            UncertaintyBudget.Entry.rectangular("step of the search", halfStepA),
                            UncertaintyBudget.Entry.normal("reading", beside.standardU(), beside.effectiveDof()))
                    .coverageFactor(level);
        }
    }

    /**
     * One point.
     *
     * @param mode how it was taken
     * @param askedA what the load was told to draw, A; only meaningful at constant current
     * @param current what it drew, A
     * @param voltageV magnitude of the output, V
     */
    public record TracePoint(Mode mode, double askedA, Measured current, double voltageV) {}

    /**
     * Reads the curve.
     *
     * @param points in the order taken
     * @param referenceV output before the limit, magnitude, V; above zero
     * @param afterV output after the load was taken off again, magnitude, V; empty if not measured
     */
    public static LimitTrace of(List<TracePoint> points, double referenceV, Optional<Double> afterV) {
        Samples.requirePositive("reference voltage", referenceV);
        double floorV = referenceV * (1 - DROP_RATIO);
        Optional<TracePoint> dropped = Optional.empty();
        Optional<TracePoint> lowest = Optional.empty();
        for (TracePoint point : points) {
            boolean constant = point.mode() == Mode.CONSTANT_CURRENT;
            if (constant
                    && point.voltageV() < floorV
                    && dropped.map(d -> point.askedA() < d.askedA()).orElse(true)) {
                dropped = Optional.of(point);
            }
            if (point.voltageV() < 0.5 * referenceV && (lowest.isEmpty() || nearerToShort(point, lowest.get()))) {
                lowest = Optional.of(point);
            }
        }
        // a search narrows the bracket after the first drop: the highest level held below the lowest that was not
        double droppedA = dropped.map(TracePoint::askedA).orElse(Double.POSITIVE_INFINITY);
        Optional<TracePoint> held = points.stream()
                .filter(p -> p.mode() == Mode.CONSTANT_CURRENT && p.voltageV() >= floorV && p.askedA() < droppedA)
                .max(Comparator.comparingDouble(TracePoint::askedA));
        Optional<Onset> onset = onset(points, held, dropped, floorV);
        boolean sagged =
                dropped.isPresent() && followed(dropped.get(), floorV) && !limitActed(points, floorV, lowest, onset);
        double highest = held.map(p -> p.current().value()).orElse(0.0);
        Shape shape = shape(onset, lowest, afterV.map(v -> v < STAYS_DOWN_RATIO * referenceV), held, sagged);
        return new LimitTrace(onset, highest, lowest, shape, sagged);
    }

    private static boolean nearerToShort(TracePoint point, TracePoint than) {
        return point.voltageV() < than.voltageV();
    }

    /**
     * Whether a limit acted somewhere beyond the drop: a higher level was not followed, or the way to a short took no
     * more current than a constant limit may. A soft limiter lets its output sag through the band while the load still
     * gets what it asks for, so the first drop alone does not tell.
     */
    private static boolean limitActed(
            List<TracePoint> points, double floorV, Optional<TracePoint> lowest, Optional<Onset> onset) {
        boolean refused = points.stream()
                .anyMatch(p -> p.mode() == Mode.CONSTANT_CURRENT && p.voltageV() < floorV && !followed(p, floorV));
        boolean bounded = lowest.isPresent()
                && onset.isPresent()
                && lowest.get().current().value()
                        <= CONSTANT_UP_TO_RATIO * onset.get().valueA();
        return refused || bounded;
    }

    /** Whether the load still got what it asked for although the output has dropped. */
    private static boolean followed(TracePoint dropped, double floorV) {
        return dropped.voltageV() > 0.5 * floorV
                && dropped.current().value() >= STILL_FOLLOWED_RATIO * dropped.askedA();
    }

    private static Optional<Onset> onset(
            List<TracePoint> points, Optional<TracePoint> held, Optional<TracePoint> dropped, double floorV) {
        if (held.isPresent() && dropped.isPresent()) {
            Measured lower = held.get().current();
            // the load draws a little more or less than it is told; the level that was not held is corrected likewise
            double upperA = dropped.get().askedA() + lower.value() - held.get().askedA();
            return Optional.of(between(lower, Math.max(lower.value(), upperA)));
        }
        if (points.stream().anyMatch(p -> p.mode() == Mode.CONSTANT_CURRENT)) {
            return Optional.empty();
        }
        return crossing(points, floorV);
    }

    /** Where a curve without constant-current points leaves the held region: between neighbours on either side. */
    private static Optional<Onset> crossing(List<TracePoint> points, double floorV) {
        for (int i = 1; i < points.size(); i++) {
            TracePoint above = points.get(i - 1);
            TracePoint below = points.get(i);
            if (above.voltageV() >= floorV && below.voltageV() < floorV) {
                double part = (above.voltageV() - floorV) / (above.voltageV() - below.voltageV());
                double a = above.current().value();
                double b = below.current().value();
                double half = 0.5 * Math.abs(b - a);
                Measured nearer = part < 0.5 ? above.current() : below.current();
                return Optional.of(new Onset(a + part * (b - a), half, nearer));
            }
        }
        return Optional.empty();
    }

    private static Onset between(Measured lower, double upperA) {
        double half = 0.5 * (upperA - lower.value());
        return new Onset(lower.value() + half, half, lower);
    }

    private static Shape shape(
            Optional<Onset> onset,
            Optional<TracePoint> lowest,
            Optional<Boolean> staysDown,
            Optional<TracePoint> held,
            boolean sagged) {
        if (staysDown.orElse(false) && lowest.isPresent()) {
            return Shape.LATCHING;
        }
        if (sagged || (onset.isEmpty() && lowest.isEmpty())) {
            return held.isPresent() ? Shape.NONE : Shape.UNCLEAR;
        }
        if (onset.isEmpty() || lowest.isEmpty()) {
            return Shape.UNCLEAR;
        }
        double ratio = lowest.get().current().value() / onset.get().valueA();
        if (ratio < FOLDBACK_BELOW_RATIO) {
            return Shape.FOLDBACK;
        }
        return ratio <= CONSTANT_UP_TO_RATIO ? Shape.CONSTANT_CURRENT : Shape.UNCLEAR;
    }
}
