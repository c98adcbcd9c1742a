package railproof.ui;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.profile.LineRating;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.Section;

/** Which curve a run draws at the moment; its limits stand there before the first point. Pure. */
final class Plots {
    /** The window leaves room beside the band, so that a value just outside is seen outside. */
    private static final double ROOM_RATIO = 0.6;

    private static final int MOST_STRETCHES = 200;
    private static final double SECONDS_PER_HOUR = 3600;
    private static final double LEAST_HOURS = 0.01;

    private Plots() {}

    /** The curve of the section at work; the load curve while that has none of its own. */
    static Plot of(RunView view, Profile profile) {
        Rail rail = profile.rails().stream()
                .filter(candidate -> candidate.name().equals(view.rail()))
                .findFirst()
                .orElse(profile.rails().get(0));
        return of(view.section().orElse(Section.LOAD_SWEEP), rail, profile.line(), view.points());
    }

    /**
     * The curve of a section of a rail.
     *
     * @param points of any section and rail
     */
    static Plot of(Section section, Rail rail, LineRating line, List<Point> points) {
        List<Point> own = points.stream()
                .filter(point -> point.rail().equals(rail.name()))
                .toList();
        return switch (section) {
            case CURRENT_LIMIT, RECOVERY -> limit(own, rail);
            case LINE_SWEEP, DROPOUT_LINE -> line(own, rail, line, section);
            case BURN_IN, BURN_IN_HOT, BURN_IN_COOLED -> hours(own, rail);
            default -> load(own, rail);
        };
    }

    private static List<Point> in(Section section, List<Point> points) {
        return points.stream().filter(point -> point.section() == section).toList();
    }

    private static Plot load(List<Point> points, Rail rail) {
        List<Plot.Dot> dots = dots(in(Section.LOAD_SWEEP, points), Quantity.LOAD_CURRENT);
        return new Plot(
                rail.name() + ": output over load",
                new Plot.Axis("load current", Unit.AMPERE, 0, 1.08 * rail.ratedCurrentA()),
                around(rail.limits().outputV(), rail.nominalV(), dots),
                dots,
                rail.limits().outputV(),
                Plot.ANY);
    }

    private static Plot hours(List<Point> points, Rail rail) {
        List<Plot.Dot> dots = thinned(dots(in(Section.BURN_IN, points), Quantity.LOADED_TIME)).stream()
                .map(dot -> new Plot.Dot(dot.xDimensionless() / SECONDS_PER_HOUR, dot.yDimensionless()))
                .toList();
        double lastH = dots.stream().mapToDouble(Plot.Dot::xDimensionless).max().orElse(0);
        return new Plot(
                rail.name() + ": output over time under load",
                new Plot.Axis("time under load / h", Unit.COUNT, 0, Math.max(LEAST_HOURS, lastH)),
                around(rail.limits().outputV(), rail.nominalV(), dots),
                dots,
                rail.limits().outputV(),
                Plot.ANY);
    }

    /** Hours of rows, as lowest and highest of each stretch. */
    private static List<Plot.Dot> thinned(List<Plot.Dot> dots) {
        int stretch = (dots.size() + MOST_STRETCHES - 1) / MOST_STRETCHES;
        if (stretch <= 2) {
            return dots;
        }
        List<Plot.Dot> kept = new ArrayList<>();
        for (int from = 0; from < dots.size(); from += stretch) {
            List<Plot.Dot> some = dots.subList(from, Math.min(dots.size(), from + stretch));
            kept.add(Collections.min(some, Comparator.comparingDouble(Plot.Dot::yDimensionless)));
            kept.add(Collections.max(some, Comparator.comparingDouble(Plot.Dot::yDimensionless)));
        }
        return kept;
    }

    private static Plot line(List<Point> points, Rail rail, LineRating line, Section section) {
        List<Plot.Dot> dots = dots(in(section, points), Quantity.LINE);
        double lowV = dots.stream().mapToDouble(Plot.Dot::xDimensionless).min().orElse(line.lowV());
        double spanV = line.highV() - line.lowV();
        return new Plot(
                rail.name() + ": output over line",
                new Plot.Axis("line", Unit.VOLT, Math.min(line.lowV(), lowV) - 0.1 * spanV, line.highV() + 0.1 * spanV),
                around(rail.limits().outputV(), rail.nominalV(), dots),
                dots,
                rail.limits().outputV(),
                Plot.ANY);
    }

    private static Plot limit(List<Point> points, Rail rail) {
        List<Plot.Dot> dots = dots(in(Section.CURRENT_LIMIT, points), Quantity.LOAD_CURRENT);
        double topV = 1.15 * Math.abs(rail.nominalV());
        boolean negative = rail.nominalV() < 0;
        return new Plot(
                rail.name() + ": current limit",
                new Plot.Axis("load current", Unit.AMPERE, 0, 1.05 * rail.maxProbeCurrentA()),
                new Plot.Axis("output", Unit.VOLT, negative ? -topV : 0, negative ? 0 : topV),
                dots,
                Plot.ANY,
                rail.limits().currentLimitA().orElse(Plot.ANY));
    }

    private static Plot.Axis around(Band band, double nominalV, List<Plot.Dot> dots) {
        double lowV = Double.isFinite(band.low()) ? band.low() : nominalV - 0.1 * Math.abs(nominalV);
        double highV = Double.isFinite(band.high()) ? band.high() : nominalV + 0.1 * Math.abs(nominalV);
        double roomV = ROOM_RATIO * (highV - lowV);
        double least = lowV - roomV;
        double most = highV + roomV;
        for (Plot.Dot dot : dots) {
            least = Math.min(least, dot.yDimensionless());
            most = Math.max(most, dot.yDimensionless());
        }
        return new Plot.Axis("output", Unit.VOLT, least, most);
    }

    private static List<Plot.Dot> dots(List<Point> points, Quantity across) {
        List<Plot.Dot> dots = new ArrayList<>();
        for (Point point : points) {
            Optional<Measured> x = point.reading(across).measured();
            Optional<Measured> y = point.reading(Quantity.OUTPUT).measured();
            if (x.isPresent() && y.isPresent()) {
                dots.add(new Plot.Dot(x.get().value(), y.get().value()));
            }
        }
        return dots;
    }
}
