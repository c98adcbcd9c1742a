package railproof.report;

import java.util.List;
import java.util.Locale;
import railproof.base.Unit;
import railproof.judge.Budget;

/** Uncertainty budgets as plain text for a terminal, in the columns laboratories use (EA-4/02 M, section 4). Pure. */
public final class BudgetTable {
    private static final List<Integer> WIDTHS = List.of(34, 11, 12, 8, 11, 12, 6);

    private BudgetTable() {}

    /** One table for each value; ends with a line end. */
    public static String text(List<Budget> budgets) {
        if (budgets.isEmpty()) {
            return "\nNo uncertainty budget: the run does not say how well its channels measured.\n";
        }
        StringBuilder all = new StringBuilder();
        budgets.forEach(budget -> all.append('\n').append(text(budget)));
        return all.toString();
    }

    private static String text(Budget budget) {
        String unit = symbol(budget.check().unit());
        TextTable table = new TextTable(WIDTHS);
        table.remark(0, budget.check().rail() + "  " + budget.check().title())
                .rule()
                .row(List.of("Source", "Value", "Distribution", "Divisor", "Sensitivity", "u, " + unit, "dof"))
                .rule();
        for (Budget.Line line : budget.lines()) {
            table.row(List.of(
                    line.source(),
                    number(line.halfWidthDimensionless()) + " " + line.unit().symbol(),
                    line.distribution(),
                    String.format(Locale.ROOT, "%.3f", line.divisorDimensionless()),
                    number(line.sensitivityDimensionless()),
                    number(line.contributionDimensionless()),
                    dof(line.dof())));
        }
        double value = budget.check().value().measured().orElseThrow().value();
        return table.rule()
                .remark(
                        0,
                        "value " + String.format(Locale.ROOT, "%.7g", value) + " " + unit + "; uc = "
                                + number(budget.combinedU()) + ", effective dof " + dof(budget.effectiveDof())
                                + ", k = "
                                + String.format(
                                        Locale.ROOT, "%.2f", budget.check().coverageDimensionless())
                                + ", U = " + number(budget.check().expandedU()) + " " + unit)
                .toString();
    }

    private static String symbol(Unit unit) {
        return unit == Unit.RATIO ? "ratio" : unit.symbol();
    }

    private static String number(double value) {
        return value == 0 ? "0" : String.format(Locale.ROOT, "%.3g", value);
    }

    private static String dof(double dof) {
        return Double.isInfinite(dof) || dof >= 1e4 ? "∞" : String.format(Locale.ROOT, "%.0f", Math.floor(dof));
    }
}
