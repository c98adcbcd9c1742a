package railproof.judge;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.signal.Regulation;

/**
 * Two runs of one unit side by side, as found and as left: what changed, and whether the change is larger than its
 * uncertainty. Pure.
 *
 * <p>The difference is after minus before. Its varying parts add in quadrature. Its shared parts (gain and offset of
 * the channel) are taken as fully correlated, and so subtract (GUM 5.2.2, r = 1), only if both runs used the same rig
 * file and the same calibration; otherwise they add in quadrature too. U is k·u with k for 95.45 % from the effective
 * degrees of freedom, as everywhere else in a record (GUM G.4.1).
 *
 * @param sameRig whether both runs used the same rig file and calibration, byte for byte
 * @param checks all checks of both judgements
 * @param points the points of the load sweeps, where both or either has one
 */
public record Comparison(boolean sameRig, List<CheckRow> checks, List<PointRow> points) {
    public Comparison {
        checks = List.copyOf(checks);
        points = List.copyOf(points);
    }

    /**
     * One check on both sides.
     *
     * @param before the check of the first run, empty if it has none
     * @param after the check of the second run, empty if it has none
     * @param change after minus before
     */
    public record CheckRow(
            String id, String title, String rail, Optional<Check> before, Optional<Check> after, Change change) {
        /** Whether the verdict is another one now, or was or is not given at all. */
        public boolean verdictChanged() {
            return !before.map(Check::verdict).equals(after.map(Check::verdict));
        }

        /** Whether it failed before, conditionally or not, and passes now. */
        public boolean failToPass() {
            return before.map(CheckRow::failed).orElse(false)
                    && after.map(CheckRow::passed).orElse(false);
        }

        /** Whether it passed before, conditionally or not, and fails now. */
        public boolean passToFail() {
            return before.map(CheckRow::passed).orElse(false)
                    && after.map(CheckRow::failed).orElse(false);
        }

        private static boolean passed(Check check) {
            return check.verdict() == Verdict.PASS || check.verdict() == Verdict.CONDITIONAL_PASS;
        }

        private static boolean failed(Check check) {
            return check.verdict() == Verdict.FAIL || check.verdict() == Verdict.CONDITIONAL_FAIL;
        }
    }

    /**
     * One load point on both sides.
     *
     * @param rail the rail's name
     * @param asked what was asked for, the same in both runs
     * @param quantity what was read
     */
    public record PointRow(
            String rail, Setpoint asked, Quantity quantity, Reading before, Reading after, Change change) {}

    /**
     * A difference.
     *
     * @param difference after minus before; missing if either is
     * @param expandedU U of the difference, in its unit; 0 if it is missing
     * @param coverageDimensionless coverage factor k behind U; 0 if it is missing
     */
    public record Change(Reading difference, double expandedU, double coverageDimensionless) {
        /** Whether the difference is larger than its expanded uncertainty. */
        public boolean significant() {
            return difference
                    .measured()
                    .map(d -> Math.abs(d.value()) > expandedU)
                    .orElse(false);
        }
    }

    /** Compares two judged runs; the first is the earlier side. */
    public static Comparison of(RunData asFound, Judgement asFoundJudged, RunData asLeft, Judgement asLeftJudged) {
        boolean sameRig =
                asFound.header().rig().sha256().equals(asLeft.header().rig().sha256())
                        && asFound.header()
                                .calibration()
                                .sha256()
                                .equals(asLeft.header().calibration().sha256());
        return new Comparison(
                sameRig,
                checkRows(asFoundJudged.checks(), asLeftJudged.checks(), sameRig),
                pointRows(asFound, asLeft, sameRig));
    }

    private static List<CheckRow> checkRows(List<Check> before, List<Check> after, boolean sameRig) {
        List<CheckRow> rows = new ArrayList<>();
        List<Check> unmatched = new ArrayList<>(after);
        for (Check check : before) {
            Optional<Check> other = unmatched.stream()
                    .filter(c -> c.id().equals(check.id()) && c.rail().equals(check.rail()))
                    .findFirst();
            other.ifPresent(unmatched::remove);
            rows.add(row(check, Optional.of(check), other, sameRig));
        }
        unmatched.forEach(check -> rows.add(row(check, Optional.empty(), Optional.of(check), sameRig)));
        return rows;
    }

    private static CheckRow row(Check named, Optional<Check> before, Optional<Check> after, boolean sameRig) {
        Reading absent = new Missing("not checked");
        Change change = change(
                before.map(Check::value).orElse(absent), after.map(Check::value).orElse(absent), sameRig);
        return new CheckRow(named.id(), named.title(), named.rail(), before, after, change);
    }

    private static List<PointRow> pointRows(RunData before, RunData after, boolean sameRig) {
        List<PointRow> rows = new ArrayList<>();
        List<Point> unmatched = new ArrayList<>(sweep(after));
        for (Point point : sweep(before)) {
            Optional<Point> other = unmatched.stream()
                    .filter(p -> p.rail().equals(point.rail()) && p.asked().equals(point.asked()))
                    .findFirst();
            other.ifPresent(unmatched::remove);
            addRows(rows, point, Optional.of(point), other, sameRig);
        }
        unmatched.forEach(point -> addRows(rows, point, Optional.empty(), Optional.of(point), sameRig));
        return rows;
    }

    private static List<Point> sweep(RunData run) {
        return run.points().stream()
                .filter(point -> point.section() == Section.LOAD_SWEEP)
                .toList();
    }

    private static void addRows(
            List<PointRow> rows, Point named, Optional<Point> before, Optional<Point> after, boolean sameRig) {
        Reading absent = new Missing("no point of this load");
        for (Quantity quantity : List.of(Quantity.OUTPUT, Quantity.RIPPLE_PP)) {
            Reading first = before.map(p -> p.reading(quantity)).orElse(absent);
            Reading second = after.map(p -> p.reading(quantity)).orElse(absent);
            rows.add(
                    new PointRow(named.rail(), named.asked(), quantity, first, second, change(first, second, sameRig)));
        }
    }

    /**
     * After minus before.
     *
     * @param sameRig whether the shared parts are the same error in both
     */
    static Change change(Reading before, Reading after, boolean sameRig) {
        if (before instanceof Measured b && after instanceof Measured a) {
            if (a.unit() != b.unit()) {
                return new Change(new Missing("the two are in different units: " + name(b) + ", " + name(a)), 0, 0);
            }
            Measured difference = sameRig ? Regulation.difference(a, b) : Regulation.differenceOfStrangers(a, b);
            double coverage = Question.COVERAGE.factor(difference);
            return new Change(difference, coverage * difference.standardU(), coverage);
        }
        String side = before instanceof Missing b ? "before: " + b.reason() : "";
        String other = after instanceof Missing a ? "after: " + a.reason() : "";
        return new Change(new Missing(side + (side.isEmpty() || other.isEmpty() ? "" : "; ") + other), 0, 0);
    }

    private static String name(Measured measured) {
        return measured.unit() == Unit.RATIO ? "ratio" : measured.unit().symbol();
    }
}
