package railproof.report;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.Rail;
import railproof.report.Graph.Axis;
import railproof.report.Graph.Dot;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.Section;
import railproof.run.Waveform;

/** The curves of one rail, each empty if the run has too few points for it. */
final class Curves {
    private static final Axis CURRENT = new Axis("load current", Unit.AMPERE);
    private static final Axis OUTPUT = new Axis("output", Unit.VOLT);

    /** An output whose mean is known no better than this share of itself was moving. */
    private static final double MOVING_RATIO = 0.03;
    /** However little is left of an output, so much of the nominal voltage is noise. */
    private static final double STEADY_RATIO = 2e-3;

    private final RunData run;
    private final Rail rail;
    private final Optional<Curves> before;

    /** Curves of a run, and behind them those of the unit's run before the repair. */
    Curves(RunData run, Rail rail, Optional<RunData> before) {
        this.run = run;
        this.rail = rail;
        this.before = before.map(earlier -> new Curves(earlier, rail, Optional.empty()));
    }

    /** Output over load current with the band it must stay in; bars show U with k = 2. */
    Optional<Graph> load() {
        List<Dot> dots = loadDots();
        return dots.size() < 2
                ? Optional.empty()
                : Optional.of(new Graph(CURRENT, OUTPUT, dots)
                        .withYBand(rail.limits().outputV())
                        .withBefore(before.map(Curves::loadDots).orElse(List.of())));
    }

    private List<Dot> loadDots() {
        List<Dot> dots = new ArrayList<>();
        for (Point point : run.points(Section.LOAD_SWEEP, rail.name())) {
            dot(point).ifPresent(dots::add);
        }
        return dots;
    }

    private List<Dot> limitDots() {
        List<Dot> dots = new ArrayList<>();
        for (Point point : run.points(Section.CURRENT_LIMIT, rail.name())) {
            // the way back has the current of before and the output of after
            if (!point.readings().containsKey(Quantity.TRANSIENT_TIME) && !moving(point)) {
                dot(point).ifPresent(d -> dots.add(new Dot(d.xDimensionless(), d.yDimensionless(), 0)));
            }
        }
        dots.sort(Comparator.comparingDouble(Curves::conductance));
        return dots;
    }

    /** Whether the output was still falling while it was read: such a point lies beside the curve. */
    private boolean moving(Point point) {
        return point.reading(Quantity.OUTPUT)
                .measured()
                .filter(v -> v.randomU()
                        > Math.max(MOVING_RATIO * Math.abs(v.value()), STEADY_RATIO * Math.abs(rail.nominalV())))
                .isPresent();
    }

    /**
     * Output over current beyond the rated load, the knee marked: its largest current. In the order of the resistance
     * seen by the rail, not in that of the search: every resistance meets a limit curve in one point, so this is the way
     * along it, over the knee and back.
     */
    Optional<Graph> limit() {
        List<Dot> dots = limitDots();
        if (dots.size() < 2) {
            return Optional.empty();
        }
        int knee = 0;
        for (int i = 1; i < dots.size(); i++) {
            if (dots.get(i).xDimensionless() > dots.get(knee).xDimensionless()) {
                knee = i;
            }
        }
        Graph graph = new Graph(CURRENT, OUTPUT, dots)
                .withYZero()
                .withBefore(before.map(Curves::limitDots).orElse(List.of()));
        rail.limits().currentLimitA().ifPresent(graph::withXBand);
        String text =
                "largest current " + Quantities.plain(round3(dots.get(knee).xDimensionless()), Unit.AMPERE);
        return Optional.of(graph.withMark(knee, text));
    }

    private static double conductance(Dot dot) {
        double volts = Math.abs(dot.yDimensionless());
        return volts > 0 ? dot.xDimensionless() / volts : Double.POSITIVE_INFINITY;
    }

    /** The capture of the output taken at the largest load, its mean taken off. */
    Optional<Graph> ripple() {
        List<Dot> dots = rippleDots();
        return dots.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        new Graph(new Axis("time", Unit.SECOND), new Axis("output minus its mean", Unit.VOLT), dots)
                                .withoutDots()
                                .withBefore(before.map(Curves::rippleDots).orElse(List.of())));
    }

    private List<Dot> rippleDots() {
        return heaviest()
                .flatMap(this::capture)
                .flatMap(waveform -> waveform.traces().stream()
                        .filter(trace -> trace.column().startsWith("output"))
                        .findFirst()
                        .filter(trace -> trace.samples().length > 1)
                        .map(trace -> thinned(trace.samples(), waveform.rateHz())))
                .orElse(List.of());
    }

    /** The point of the load sweep with a capture and the largest current. */
    Optional<Point> heaviest() {
        return run.points(Section.LOAD_SWEEP, rail.name()).stream()
                .filter(point -> point.waveform().isPresent())
                .max(Comparator.comparingDouble(point -> point.asked().level()));
    }

    private Optional<Waveform> capture(Point point) {
        return run.waveforms().stream()
                .filter(waveform -> waveform.id() == point.waveform().orElse(-1))
                .findFirst();
    }

    private static Optional<Dot> dot(Point point) {
        Optional<Measured> current = point.reading(Quantity.LOAD_CURRENT).measured();
        Optional<Measured> output = point.reading(Quantity.OUTPUT).measured();
        return current.flatMap(i -> output.map(v -> new Dot(i.value(), v.value(), 2 * v.standardU())));
    }

    private static List<Dot> thinned(double[] samples, double rateHz) {
        double mean = Arrays.stream(samples).average().orElse(0);
        List<Dot> dots = new ArrayList<>();
        for (int i = 0; i < samples.length; i++) {
            dots.add(new Dot(i / rateHz, samples[i] - mean, 0));
        }
        return Graph.thinned(dots);
    }

    private static double round3(double value) {
        return value == 0
                ? 0
                : new java.math.BigDecimal(value)
                        .round(new java.math.MathContext(3))
                        .doubleValue();
    }
}
