package railproof.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.profile.BurnInPlan;
import railproof.profile.Rail;
import railproof.report.Graph.Axis;
import railproof.report.Graph.Dot;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.Section;

/** The curves of one rail over its hours under load, each empty if the run has too few points for it. */
final class BurnInCurves {
    private static final Axis HOURS = new Axis("time under load", Unit.SECOND, Optional.of("h"));
    private static final double SECONDS_PER_HOUR = 3600;

    private final Rail rail;
    private final BurnInPlan plan;
    private final List<Point> rows = new ArrayList<>();
    /** Where the load was off: a cold start, a pause, or the program was not there; h under load. */
    private final List<Double> breaksHours = new ArrayList<>();

    BurnInCurves(RunData run, Rail rail, BurnInPlan plan) {
        this.rail = rail;
        this.plan = plan;
        boolean startedAgain = false;
        for (Point point : run.points()) {
            boolean loaded = point.section() == Section.BURN_IN || point.section() == Section.BURN_IN_HOT;
            if (!point.rail().equals(rail.name())) {
                continue;
            }
            if (loaded) {
                if (startedAgain) {
                    breaksHours.add(hours(point));
                }
                rows.add(point);
            }
            startedAgain = point.section() == Section.NO_LOAD && !rows.isEmpty();
        }
    }

    /** The output, and how far from its first hot reading it may drift. */
    Optional<Graph> output() {
        return graph(new Axis("output", Unit.VOLT), Quantity.OUTPUT).map(graph -> firstHot()
                .map(hotV -> graph.withYBand(new Band(
                        hotV - plan.driftMaxRatio() * Math.abs(hotV), hotV + plan.driftMaxRatio() * Math.abs(hotV))))
                .orElse(graph));
    }

    /** The ripple of the full readings, with what is allowed. */
    Optional<Graph> ripple() {
        return graph(new Axis("ripple, p-p", Unit.VOLT), Quantity.RIPPLE_PP).map(graph -> rail.limits()
                .ripplePpMaxV()
                .map(maxV -> graph.withYBand(new Band(0, maxV)))
                .orElseGet(graph::withYZero));
    }

    /** The heat sink, with what is allowed. */
    Optional<Graph> heatSink() {
        return graph(new Axis("heat sink", Unit.CELSIUS), Quantity.HEAT_SINK).map(graph -> plan.heatSinkMaxC()
                .map(maxC -> graph.withYBand(Band.atMost(maxC)))
                .orElse(graph));
    }

    private Optional<Double> firstHot() {
        return rows.stream()
                .filter(point -> point.section() == Section.BURN_IN_HOT)
                .findFirst()
                .flatMap(point -> point.reading(Quantity.OUTPUT).measured())
                .map(Measured::value);
    }

    private Optional<Graph> graph(Axis axis, Quantity quantity) {
        List<Dot> dots = new ArrayList<>();
        for (Point row : rows) {
            row.reading(quantity).measured().ifPresent(m -> dots.add(new Dot(hours(row), m.value(), 0)));
        }
        return dots.size() < 2
                ? Optional.empty()
                : Optional.of(new Graph(HOURS, axis, Graph.thinned(dots))
                        .withoutDots()
                        .withXBreaks(breaksHours));
    }

    private static double hours(Point row) {
        return row.reading(Quantity.LOADED_TIME).measured().map(Measured::value).orElse(0.0) / SECONDS_PER_HOUR;
    }
}
