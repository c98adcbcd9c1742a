package railproof.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.ToIntFunction;
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
import railproof.signal.LineEdge;
import railproof.signal.StepOnset;

/** One rail while something changes: load steps, line off and on, a line that rises or sags. Empty if not measured. */
final class ChangeCurves {
    private static final Axis TIME = new Axis("time", Unit.SECOND);
    private static final Axis OUTPUT = new Axis("output", Unit.VOLT);
    private static final Axis LINE = new Axis("line", Unit.VOLT);
    private static final double DEFAULT_SPAN_S = 0.05;
    /** Some times what a load needs to rise. */
    private static final double SHORTEST_SPAN_S = 2e-3;

    private final RunData run;
    private final Rail rail;
    private final double lineHz;

    ChangeCurves(RunData run, Rail rail, double lineHz) {
        this.run = run;
        this.rail = rail;
        this.lineHz = lineHz;
    }

    /** Output after the load went up, and after it went down. */
    Optional<Graph> loadStep() {
        double spanS = 6 * longestS(Section.LOAD_STEP).orElse(DEFAULT_SPAN_S / 6);
        List<List<Dot>> curves = curves(points(Section.LOAD_STEP), this::stepIndex, Math.max(spanS, SHORTEST_SPAN_S));
        return pair(curves, "load up", "load down");
    }

    /** Output after line off: at the phase at which it stood shortest, and longest. */
    Optional<Graph> holdUp() {
        List<Point> byTime = points(Section.HOLD_UP).stream()
                .filter(point -> timeS(point).isPresent())
                .sorted(Comparator.comparingDouble(point -> timeS(point).orElse(0)))
                .toList();
        if (byTime.isEmpty()) {
            return Optional.empty();
        }
        List<Point> ends = byTime.size() == 1 ? byTime : List.of(byTime.get(0), byTime.get(byTime.size() - 1));
        double spanS = 1.5 * longestS(Section.HOLD_UP).orElse(DEFAULT_SPAN_S);
        return pair(curves(ends, this::offIndex, spanS), "shortest", "longest")
                .map(graph -> graph.withYBand(rail.limits().outputV()));
    }

    /** Output after line on, into a resistance and into a constant current. */
    Optional<Graph> startUp() {
        double spanS = 1.5 * longestS(Section.START_UP).orElse(DEFAULT_SPAN_S);
        List<List<Dot>> curves = curves(points(Section.START_UP), this::onIndex, spanS);
        return pair(curves, "resistance", "constant current")
                .map(graph -> graph.withYBand(rail.limits().outputV()));
    }

    /** Output and reservoir without load over a line that comes up in steps. */
    Optional<Graph> firstPowerUp() {
        List<Dot> outputs = overLine(Section.FIRST_POWER_UP, Quantity.OUTPUT);
        return outputs.size() < 2
                ? Optional.empty()
                : Optional.of(new Graph(LINE, new Axis("without load", Unit.VOLT), outputs)
                        .withBehind(overLine(Section.FIRST_POWER_UP, Quantity.RAW), "output", "reservoir"));
    }

    /** Output at full load over a line that sags; the line at which regulation is lost is marked. */
    Optional<Graph> dropout() {
        List<Dot> dots = overLine(Section.DROPOUT_LINE, Quantity.OUTPUT);
        if (dots.size() < 2) {
            return Optional.empty();
        }
        Graph graph = new Graph(LINE, OUTPUT, dots).withoutXZero();
        List<Point> points = points(Section.DROPOUT_LINE);
        Point last = points.get(points.size() - 1);
        Optional<Measured> lostV = last.note().isEmpty()
                ? Optional.empty()
                : last.reading(Quantity.LINE).measured();
        return Optional.of(lostV.map(volts -> graph.withMarkBeside(
                        index(dots, volts.value()),
                        "regulation is lost at "
                                + Quantities.withUncertainty(volts.value(), 2 * volts.standardU(), Unit.VOLT)))
                .orElse(graph));
    }

    private static int index(List<Dot> dots, double x) {
        for (int i = 0; i < dots.size(); i++) {
            if (dots.get(i).xDimensionless() == x) {
                return i;
            }
        }
        return -1;
    }

    private List<Dot> overLine(Section section, Quantity quantity) {
        List<Dot> dots = new ArrayList<>();
        for (Point point : points(section)) {
            Optional<Measured> lineV = point.reading(Quantity.LINE).measured();
            Optional<Measured> value = point.reading(quantity).measured();
            if (lineV.isPresent() && value.isPresent()) {
                dots.add(new Dot(lineV.get().value(), value.get().value(), 0));
            }
        }
        dots.sort(Comparator.comparingDouble(Dot::xDimensionless));
        return dots;
    }

    private List<Point> points(Section section) {
        return run.points(section, rail.name());
    }

    private static OptionalDouble timeS(Point point) {
        Optional<Measured> time = point.reading(Quantity.TRANSIENT_TIME).measured();
        return time.isPresent() ? OptionalDouble.of(time.get().value()) : OptionalDouble.empty();
    }

    private OptionalDouble longestS(Section section) {
        return points(section).stream()
                .flatMapToDouble(point -> timeS(point).stream())
                .max();
    }

    private static Optional<Graph> pair(List<List<Dot>> curves, String first, String second) {
        if (curves.isEmpty()) {
            return Optional.empty();
        }
        Graph graph = new Graph(TIME, OUTPUT, curves.get(0)).withoutDots();
        return Optional.of(curves.size() == 1 ? graph : graph.withBehind(curves.get(1), first, second));
    }

    /** Each capture of the output with its time since the change, from a tenth of the span before it. */
    private List<List<Dot>> curves(List<Point> points, ToIntFunction<Waveform> change, double spanS) {
        List<List<Dot>> curves = new ArrayList<>();
        for (Point point : points) {
            Optional<Waveform> found = run.waveforms().stream()
                    .filter(waveform -> waveform.id() == point.waveform().orElse(-1))
                    .filter(waveform -> samples(waveform, "output").length > 1)
                    .findFirst();
            if (found.isEmpty()) {
                continue;
            }
            Waveform waveform = found.get();
            double[] volts = samples(waveform, "output");
            int at = change.applyAsInt(waveform);
            int from = Math.max(0, at - (int) (0.1 * spanS * waveform.rateHz()));
            int to = Math.min(volts.length, at + (int) Math.ceil(spanS * waveform.rateHz()) + 1);
            List<Dot> dots = new ArrayList<>();
            for (int i = from; i < to; i++) {
                dots.add(new Dot((i - at) / waveform.rateHz(), volts[i], 0));
            }
            curves.add(Graph.thinned(dots));
        }
        return curves;
    }

    /** Where the output begins to answer; the captures begin two line cycles before the load is told. */
    private int stepIndex(Waveform waveform) {
        double[] volts = samples(waveform, "output");
        int quiet = (int) (0.99 * 2 * waveform.rateHz() / lineHz);
        return quiet > 1 && quiet + 1 < volts.length
                ? StepOnset.index(volts, quiet, waveform.rateHz() / lineHz).orElse(quiet)
                : 0;
    }

    private int offIndex(Waveform waveform) {
        return index(LineEdge.off(samples(waveform, "line"), waveform.rateHz(), lineHz));
    }

    private int onIndex(Waveform waveform) {
        return index(LineEdge.on(samples(waveform, "line"), waveform.rateHz(), lineHz));
    }

    private static int index(Optional<LineEdge> found) {
        return found.map(LineEdge::index).orElse(0);
    }

    private static double[] samples(Waveform waveform, String column) {
        return waveform.traces().stream()
                .filter(trace -> trace.column().startsWith(column))
                .findFirst()
                .map(Waveform.Trace::samples)
                .orElse(new double[] {0, 0});
    }
}
