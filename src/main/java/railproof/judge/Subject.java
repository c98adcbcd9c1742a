package railproof.judge;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.Section;

/** One rail of one run, asked for its points and for what is missing from them. */
record Subject(RunData run, Profile profile, Rail rail) {
    /** A level counts as the one planned within this share of the rated current. */
    private static final double SAME_LEVEL_RATIO = 0.01;
    /** The load must draw at least this share of what it was told. */
    private static final double DRAWN_RATIO = 0.97;
    /** The line must stand within this share of what was asked. */
    private static final double SAME_LINE_RATIO = 0.03;

    List<Point> points(Section section) {
        return run.points(section, rail.name());
    }

    /** A reading turned to be positive for a rail that stands as it should. */
    Measured upright(Measured reading) {
        return rail.nominalV() < 0 ? reading.times(-1) : reading;
    }

    /** The output at a point, upright. */
    Optional<Measured> output(Point point) {
        return point.reading(Quantity.OUTPUT).measured().map(this::upright);
    }

    double nominalV() {
        return Math.abs(rail.nominalV());
    }

    /** Why a section has no points. */
    String whyAbsent(Section section) {
        String what = section.label() + " was not measured";
        if (run.outcome().completed()) {
            return what + " in this run";
        }
        // the cause stands once, beside the check of the rig's protection and above the table
        return what + ": the run ended early";
    }

    boolean unloaded(Point point) {
        return "off".equals(point.asked().mode())
                || ("CC".equals(point.asked().mode()) && near(point.asked().level(), rail.minimumLoadA()));
    }

    boolean atFullLoad(Point point) {
        return "CC".equals(point.asked().mode()) && near(point.asked().level(), rail.ratedCurrentA());
    }

    boolean atLine(Point point, double lineV) {
        return Math.abs(point.asked().lineV() - lineV) <= 0.01 * lineV;
    }

    /** The levels of the plan that the load sweep holds no point for, in words. */
    List<String> gapsInSweep() {
        List<String> gaps = new ArrayList<>();
        for (double fraction : profile.plan().loadFractions()) {
            double level = Math.max(fraction * rail.ratedCurrentA(), rail.minimumLoadA());
            boolean taken = points(Section.LOAD_SWEEP).stream()
                    .anyMatch(p ->
                            ("CC".equals(p.asked().mode()) && near(p.asked().level(), level))
                                    || (near(level, rail.minimumLoadA()) && unloaded(p)));
            if (!taken) {
                gaps.add(Words.of(level, Unit.AMPERE));
            }
        }
        if (gaps.isEmpty()) {
            return List.of();
        }
        String rest = run.outcome().completed() ? "" : " (" + whyAbsent(Section.LOAD_SWEEP) + " to the end)";
        return List.of("no point at " + String.join(", ", gaps) + rest);
    }

    /** Whether the load took what it was told to: a load that did not switch on proves nothing. */
    Optional<String> loadDoubt(Point point) {
        if (!"CC".equals(point.asked().mode()) || point.asked().level() <= 0) {
            return Optional.empty();
        }
        Optional<Measured> drawn = point.reading(Quantity.LOAD_CURRENT).measured();
        if (drawn.isEmpty()) {
            return Optional.of("the load current was not measured at " + Words.at(point));
        }
        double missing = DRAWN_RATIO * point.asked().level() - drawn.get().value();
        return missing <= Question.COVERAGE.expandedU(drawn.get())
                ? Optional.empty()
                : Optional.of(
                        "the load drew only " + Words.of(drawn.get().value(), Unit.AMPERE) + " at " + Words.at(point));
    }

    /** Whether the line stood where it was asked to: a line that did not move proves nothing of line regulation. */
    Optional<String> lineDoubt(Point point) {
        Optional<Measured> line = point.reading(Quantity.LINE).measured();
        if (line.isEmpty()) {
            return Optional.of("the line voltage was not measured at " + Words.at(point));
        }
        double off = Math.abs(line.get().value() - point.asked().lineV());
        return off <= SAME_LINE_RATIO * point.asked().lineV()
                ? Optional.empty()
                : Optional.of(
                        "the line stood at " + Words.of(line.get().value(), Unit.VOLT) + " at " + Words.at(point));
    }

    private boolean near(double level, double planned) {
        return Math.abs(level - planned) <= SAME_LEVEL_RATIO * rail.ratedCurrentA();
    }
}
