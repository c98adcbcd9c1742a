package railproof.judge;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.run.ChannelAccuracy;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.signal.UncertaintyBudget;
import railproof.signal.UncertaintyBudget.Distribution;
import railproof.signal.UncertaintyBudget.Entry;

/**
 * The uncertainty budget of one judged value, in the form of GUM (JCGM 100:2008) 8: what it comes from, how it is
 * distributed, how much of it reaches the result. Pure: from the archived run alone. What the channel's accuracy does
 * not explain of the value's varying part is its scatter (type A), so that the rows always combine to the uncertainty
 * that was judged with.
 *
 * @param check the judged value
 * @param lines the contributions; those that are zero say why
 * @param combinedU standard uncertainty uc of the value, in its unit
 * @param effectiveDof of uc, by Welch and Satterthwaite; may be infinite
 */
public record Budget(Check check, List<Line> lines, double combinedU, double effectiveDof) {
    public Budget {
        lines = List.copyOf(lines);
    }

    /**
     * One contribution.
     *
     * @param source what it comes from
     * @param halfWidthDimensionless standard uncertainty or half-width of the input, in the input's unit
     * @param unit the input's unit
     * @param distribution how the input is distributed
     * @param divisorDimensionless from half-width to standard uncertainty
     * @param sensitivityDimensionless change of the result per change of the input
     * @param contributionDimensionless in the unit of the result
     * @param dof degrees of freedom; may be infinite
     */
    public record Line(
            String source,
            double halfWidthDimensionless,
            Unit unit,
            String distribution,
            double divisorDimensionless,
            double sensitivityDimensionless,
            double contributionDimensionless,
            double dof) {}

    /** The budgets of all values of a judgement that were measured and come from a recorded channel. */
    public static List<Budget> of(RunData run, Judgement judgement) {
        List<Budget> budgets = new ArrayList<>();
        for (Check check : judgement.checks()) {
            quantity(check.id()).ifPresent(quantity -> check.value()
                    .measured()
                    .flatMap(value -> CalibrationState.accuracy(run, check.rail(), channel(quantity))
                            .map(accuracy -> of(check, value, accuracy, WindowLimits.of(run, check.rail()))))
                    .ifPresent(budgets::add));
        }
        return budgets;
    }

    private static Optional<Quantity> quantity(String id) {
        return switch (id) {
            case "no-load-voltage",
                    "output-voltage",
                    "recovery",
                    "burn-in-output",
                    "burn-in-cooled",
                    "load-regulation",
                    "line-regulation" -> Optional.of(Quantity.OUTPUT);
            case "ripple-pp", "burn-in-ripple-pp" -> Optional.of(Quantity.RIPPLE_PP);
            case "ripple-rms" -> Optional.of(Quantity.RIPPLE_RMS);
            case "current-limit", "short-circuit" -> Optional.of(Quantity.LOAD_CURRENT);
            default -> Optional.empty();
        };
    }

    private static Quantity channel(Quantity quantity) {
        return quantity == Quantity.LOAD_CURRENT ? quantity : Quantity.OUTPUT;
    }

    private static Budget of(Check check, Measured value, ChannelAccuracy accuracy, WindowLimits window) {
        Quantity quantity = quantity(check.id()).orElseThrow();
        BudgetRows rows = new BudgetRows(value);
        if (check.id().endsWith("-regulation")) {
            rows.difference(accuracy);
        } else if (quantity == Quantity.LOAD_CURRENT) {
            rows.current(accuracy, check.id().equals("current-limit"));
        } else {
            if (quantity == Quantity.OUTPUT) {
                rows.window(window);
            }
            rows.voltage(accuracy, quantity == Quantity.OUTPUT, quantity == Quantity.RIPPLE_PP);
        }
        UncertaintyBudget budget = new UncertaintyBudget(rows.entries());
        List<Line> lines = new ArrayList<>();
        for (int i = 0; i < rows.entries().size(); i++) {
            lines.add(line(rows.entries().get(i), rows.units().get(i)));
        }
        return new Budget(check, lines, budget.combinedU(), budget.effectiveDof());
    }

    private static Line line(Entry entry, Unit unit) {
        return new Line(
                entry.name(),
                entry.halfWidthDimensionless(),
                unit,
                entry.distribution() == Distribution.NORMAL ? "normal" : "rectangular",
                entry.distribution().divisor(),
                entry.sensitivityDimensionless(),
                entry.contribution(),
                entry.dof());
    }
}
