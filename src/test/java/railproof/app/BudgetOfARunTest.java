package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.judge.Budget;
import railproof.report.BudgetTable;

/** The budgets of an archived run: they must add up to the uncertainty that was judged with. */
class BudgetOfARunTest {
    @TempDir
    private Path data = Path.of("");

    @Test
    void everyJudgedVoltageRippleAndCurrentHasABudgetThatAddsUp() throws Exception {
        RunResult result = new PlainBench().run(data, UnaryOperator.identity());

        List<Budget> budgets = Budget.of(result.run(), result.judgement().orElseThrow());

        assertEquals(
                List.of(
                        "no-load-voltage",
                        "output-voltage",
                        "load-regulation",
                        "line-regulation",
                        "ripple-pp",
                        "current-limit",
                        "short-circuit",
                        "recovery"),
                budgets.stream().map(budget -> budget.check().id()).toList());
        for (Budget budget : budgets) {
            // the onset's gain error was added at the two levels beside it, the budget takes it in the middle
            double rounding = budget.check().id().equals("current-limit") ? 1e-3 : 1e-6;
            double judgedU = budget.check().value().measured().orElseThrow().standardU();
            assertEquals(
                    judgedU,
                    budget.combinedU(),
                    rounding * judgedU,
                    budget.check().id());
            assertEquals(
                    budget.check().expandedU(),
                    budget.check().coverageDimensionless() * budget.combinedU(),
                    rounding * budget.check().expandedU(),
                    budget.check().id());
        }
    }

    @Test
    void theOutputsBudgetIsTheOneWorkedOutByHand() throws Exception {
        RunResult result = new PlainBench().run(data, UnaryOperator.identity());
        Budget output =
                Budget.of(result.run(), result.judgement().orElseThrow()).get(0);

        // rig file: gain 0.02 % of 5.02 V, offset 0.5 mV, non-linearity 0.002 % of 10 V
        assertEquals(0.001004, contribution(output, "gain, data sheet"), 1e-6);
        assertEquals(0.0005, contribution(output, "calibration: offset"), 1e-12);
        assertEquals(0.0002, contribution(output, "non-linearity"), 1e-12);
        assertEquals(0, contribution(output, "drift since calibration (none stated)"));
        // this unit has no ripple, and the window is shown to cost nothing
        assertEquals(0, contribution(output, "timing of the window"), 1e-6);
        assertEquals(0, contribution(output, "sampling at the window's ends"), 1e-6);
        assertTrue(BudgetTable.text(List.of(output)).contains("uc = 0.00114"), () -> BudgetTable.text(List.of(output)));
    }

    private static double contribution(Budget budget, String source) {
        return budget.lines().stream()
                .filter(line -> line.source().equals(source))
                .findFirst()
                .orElseThrow()
                .contributionDimensionless();
    }
}
