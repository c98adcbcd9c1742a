package railproof.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import railproof.base.Measured;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.judge.Check;
import railproof.judge.Comparison;
import railproof.judge.Comparison.Change;
import railproof.judge.Comparison.CheckRow;
import railproof.judge.Comparison.PointRow;
import railproof.run.Setpoint;

/** Two runs of a unit side by side as plain text for a terminal, at most 100 columns wide. Pure. */
public final class ComparisonTable {
    private static final List<Integer> CHECK_WIDTHS = List.of(9, 24, 20, 20, 23);
    private static final List<Integer> POINT_WIDTHS = List.of(9, 24, 20, 20, 23);

    private ComparisonTable() {}

    /** The checks, then the load points; ends with a line end. */
    public static String text(Comparison comparison) {
        TextTable checks = new TextTable(CHECK_WIDTHS);
        checks.rule()
                .row(List.of("Rail", "Check", "Before", "After", "Change ± U"))
                .rule();
        for (CheckRow row : comparison.checks()) {
            checks.row(List.of(row.rail(), row.title(), side(row.before()), side(row.after()), change(row.change())));
        }
        checks.rule();
        TextTable points = new TextTable(POINT_WIDTHS);
        if (!comparison.points().isEmpty()) {
            points.row(List.of("Rail", "Load point", "Before", "After", "Change ± U"))
                    .rule();
            for (PointRow row : comparison.points()) {
                points.row(List.of(
                        row.rail(),
                        asked(row.asked()) + "\n" + row.quantity().column(),
                        reading(row.before()),
                        reading(row.after()),
                        change(row.change())));
            }
            points.rule();
        }
        String note = comparison.sameRig()
                ? "Same rig file and calibration in both runs: what both readings share cancels in the change."
                : "Rig file or calibration differ between the runs: nothing is assumed to cancel in the change.";
        changes(comparison).forEach(line -> points.remark(0, line));
        return checks + points.remark(0, note).toString();
    }

    /** What turned from fail to pass, and the other way round. */
    public static List<String> changes(Comparison comparison) {
        List<String> lines = new ArrayList<>();
        lines.add("From fail to pass: " + named(comparison, CheckRow::failToPass));
        lines.add("From pass to fail: " + named(comparison, CheckRow::passToFail));
        return lines;
    }

    private static String named(Comparison comparison, Predicate<CheckRow> which) {
        String rows = comparison.checks().stream()
                .filter(which)
                .map(row -> row.rail() + " " + row.title())
                .collect(Collectors.joining("; "));
        return rows.isEmpty() ? "nothing" : rows;
    }

    /** One side of a check: its value and verdict, a line each. */
    public static String side(Optional<Check> check) {
        return check.map(c -> Quantities.text(c.value(), c.expandedU()) + "\n"
                        + c.verdict().words())
                .orElse("not checked");
    }

    private static String reading(Reading reading) {
        return Quantities.text(
                reading, reading.measured().map(m -> 2 * m.standardU()).orElse(0.0));
    }

    /** What changed with its uncertainty, and whether that is more than nothing, a line each. */
    public static String change(Change change) {
        Optional<Measured> difference = change.difference().measured();
        if (difference.isEmpty()) {
            return "not known";
        }
        String sign = difference.get().value() > 0 ? "+" : "";
        return sign + Quantities.text(change.difference(), change.expandedU()) + "\n"
                + (change.significant() ? "changed" : "within its uncertainty");
    }

    private static String asked(Setpoint asked) {
        Unit unit =
                switch (asked.mode()) {
                    case "CV" -> Unit.VOLT;
                    case "CR" -> Unit.OHM;
                    default -> Unit.AMPERE;
                };
        String load =
                asked.mode().equals("off") ? "no load" : asked.mode() + " " + Quantities.plain(asked.level(), unit);
        return load + " at " + Quantities.plain(asked.lineV(), Unit.VOLT) + " line";
    }
}
