package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.profile.DecisionRule;
import railproof.run.ChannelAccuracy;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunEvent;

/**
 * Budgets worked out row by row, in the form of GUM (JCGM 100:2008) 8: what a channel states, how it reaches the result,
 * and that what it does not explain of the varying part is left as scatter.
 */
class BudgetTest {
    private static final double INF = Double.POSITIVE_INFINITY;
    private static final String RAIL = "+12 V";

    /** Calibrated: gain 10 ppm, drift 20 ppm, slope 5 ppm about 6 V, zero 0.2 mV, bend 0.3 mV, step 0.3 mV, lead 0.5 mΩ. */
    private static final ChannelAccuracy CALIBRATED = new ChannelAccuracy(
            RAIL,
            Quantity.OUTPUT,
            "output",
            10e-6,
            0.2e-3,
            5e-6,
            6,
            0.3e-3,
            0.2e-3,
            0.3e-3,
            20e-6,
            0.5e-3,
            Optional.of(new ChannelAccuracy.Calibrated(
                    LocalDate.of(2026, 1, 1), LocalDate.of(2027, 1, 1), "reference meter")));

    private static final ChannelAccuracy DATA_SHEET = new ChannelAccuracy(
            RAIL, Quantity.OUTPUT, "output", 200e-6, 1e-3, 0, 0, 0.3e-3, 0.2e-3, 0.3e-3, 0, 0, Optional.empty());

    private static final ChannelAccuracy LOAD = new ChannelAccuracy(
            RAIL, Quantity.LOAD_CURRENT, "load", 500e-6, 0.5e-3, 0, 0, 0, 0, 1e-3, 0, 0, Optional.empty());

    private static Check check(String id, Reading value) {
        return new Check(id, id, RAIL, value, 0, 2, Band.atMost(20), Unit.VOLT, Verdict.PASS, "");
    }

    private static List<Budget> budgets(ChannelAccuracy accuracy, Check... checks) {
        // without ripple the window costs nothing, and leaves the numbers round
        RunData run = BenchRun.healthy()
                .change(point -> true, Quantity.RIPPLE_PP, r -> new Missing("none"))
                .event(new RunEvent.ChannelUsed(0, accuracy))
                .event(new RunEvent.ChannelUsed(0, LOAD))
                .data();
        return Budget.of(run, new Judgement("p", "", DecisionRule.GUARD_BAND, List.of(checks)));
    }

    private static Budget of(ChannelAccuracy accuracy, String id, Measured value) {
        return budgets(accuracy, check(id, value)).get(0);
    }

    private static Budget.Line line(Budget budget, String source) {
        return budget.lines().stream()
                .filter(line -> line.source().equals(source))
                .findFirst()
                .orElseThrow(() -> new AssertionError(source + " is not among " + budget.lines()));
    }

    private static void row(Budget budget, String source, double input, double sensitivity, double contribution) {
        Budget.Line line = line(budget, source);
        assertEquals(input, line.halfWidthDimensionless(), 1e-15, source);
        assertEquals(sensitivity, line.sensitivityDimensionless(), 1e-12, source);
        assertEquals(contribution, line.contributionDimensionless(), 1e-12, source);
    }

    /** 12 V: 1 mV varies, of which 0.3 mV is bend; shared: 0.12, 0.24, 6 V × 5 ppm = 0.03, 0.2 mV; 1 mV in the leads. */
    @Test
    void everyRowOfALevelOnACalibratedChannel() {
        double shared = Math.sqrt(0.12 * 0.12 + 0.24 * 0.24 + 0.03 * 0.03 + 0.2 * 0.2) * 1e-3;
        Measured value = new Measured(12, 1e-3, shared, 1e-3, 9, Unit.VOLT);

        Budget budget = of(CALIBRATED, "output-voltage", value);

        row(budget, "calibration: gain of the reference", 10e-6, 12, 0.12e-3);
        row(budget, "drift since calibration", 20e-6, 12, 0.24e-3);
        row(budget, "calibration: slope of the fitted line", 5e-6, 6, 0.03e-3);
        row(budget, "calibration: offset", 0.2e-3, 1, 0.2e-3);
        row(budget, "non-linearity", 0.3e-3, 1, 0.3e-3);
        row(budget, "resolution (within the scatter of the samples)", 0, 1, 0);
        double left = Math.sqrt(1 - 0.3 * 0.3) * 1e-3;
        row(budget, "noise of the mean", left, 1, left);
        row(budget, "lead drop: current times resistance", 0.5e-3, 2, 1e-3);
        assertEquals(value.standardU(), budget.combinedU(), 1e-12);
        // the scatter's degrees of freedom are those that give the reading's 9 for the varying part as a whole
        assertEquals(9 * Math.pow(0.91, 2), line(budget, "noise of the mean").dof(), 1e-9);
        assertEquals(value.effectiveDof(), budget.effectiveDof(), 1e-6 * value.effectiveDof());
        assertEquals(Unit.RATIO, line(budget, "drift since calibration").unit());
        assertEquals(
                Unit.OHM, line(budget, "lead drop: current times resistance").unit());
        assertEquals(Unit.VOLT, line(budget, "noise of the mean").unit());
        assertEquals("normal", line(budget, "calibration: offset").distribution());
        assertEquals(1, line(budget, "calibration: offset").divisorDimensionless(), 0);
    }

    /** A line is known best in the middle of its levels: 2 V lies 4 V below, −12 V as far above as 12 V. */
    @Test
    void theFittedLinesSlopeTurnsAboutItsPivot() {
        row(of(CALIBRATED, "no-load-voltage", volts(2)), "calibration: slope of the fitted line", 5e-6, -4, 20e-6);
        row(of(CALIBRATED, "no-load-voltage", volts(-12)), "calibration: slope of the fitted line", 5e-6, 6, 30e-6);
    }

    private static Measured volts(double value) {
        return new Measured(value, 1e-3, 1e-3, 9, Unit.VOLT);
    }

    @Test
    void withoutACalibrationTheDataSheetStandsThereAndWhatIsUnknownIsSaid() {
        Budget budget = of(DATA_SHEET, "recovery", volts(12));

        row(budget, "gain, data sheet", 200e-6, 12, 2.4e-3);
        row(budget, "drift since calibration (none stated)", 0, 12, 0);
        row(budget, "lead drop (not checked at calibration)", 0, 1, 0);
    }

    /** Scatter that is smaller than the stated bend: the bend has no room in it, and all of it is scatter. */
    @Test
    void whatHasNoRoomInTheVaryingPartIsNotCountedTwice() {
        Measured value = new Measured(12, 0.1e-3, 0, 9, Unit.VOLT);
        Budget budget = of(DATA_SHEET, "output-voltage", value);

        assertTrue(budget.lines().stream().noneMatch(line -> line.source().equals("non-linearity")));
        row(budget, "noise of the mean", 0.1e-3, 1, 0.1e-3);
        assertEquals(9, line(budget, "noise of the mean").dof(), 1e-9);
    }

    /** As much as there is: nothing is left over, and no degrees of freedom below one. */
    @Test
    void aVaryingPartThatIsAllBendHasNoScatterLeft() {
        Budget budget = of(DATA_SHEET, "output-voltage", new Measured(12, 0.3e-3, 0, 9, Unit.VOLT));

        row(budget, "non-linearity", 0.3e-3, 1, 0.3e-3);
        assertEquals(0, line(budget, "noise of the mean").contributionDimensionless(), 1e-12);
        assertEquals(1, line(budget, "noise of the mean").dof(), 1e-9);
    }

    @Test
    void aReadingWithoutScatterHasAnExactlyKnownNothing() {
        Budget budget = of(DATA_SHEET, "output-voltage", new Measured(12, 0, 0, INF, Unit.VOLT));

        row(budget, "noise of the mean", 0, 1, 0);
        assertEquals(INF, line(budget, "noise of the mean").dof(), 0);
    }

    /** Ripple, peak to peak: no zero, no leads, the bend at both ends, a step of 0.3 mV over √12. */
    @ParameterizedTest
    @CsvSource({"ripple-pp", "burn-in-ripple-pp"})
    void rowsOfARippleFromPeakToPeak(String id) {
        Measured value = new Measured(0.020, 1e-3, 4e-6, 9, Unit.VOLT);
        Budget budget = of(CALIBRATED, id, value);

        row(budget, "calibration: gain of the reference", 10e-6, 0.020, 0.2e-6);
        // within one record the slope counts over the span, not from the pivot
        row(budget, "calibration: slope of the fitted line", 5e-6, 0.020, 0.1e-6);
        row(budget, "calibration: offset (none: one record)", 0, 1, 0);
        row(budget, "non-linearity at the peak", 0.3e-3, 1, 0.3e-3);
        row(budget, "non-linearity in the trough", 0.3e-3, 1, 0.3e-3);
        row(budget, "resolution", 0.15e-3, 1, 0.3e-3 / Math.sqrt(12));
        assertEquals("rectangular", line(budget, "resolution").distribution());
        assertEquals(Math.sqrt(3), line(budget, "resolution").divisorDimensionless(), 1e-12);
        double left = 1e-3 * Math.sqrt(1 - 2 * 0.09 - 0.09 / 12);
        row(budget, "scatter, noise taken off, between samples", left, 1, left);
        row(budget, "lead drop (none: one record)", 0, 1, 0);
    }

    @Test
    void rowsOfARipplesRms() {
        Budget budget = of(CALIBRATED, "ripple-rms", new Measured(0.006, 0.1e-3, 0, 9, Unit.VOLT));

        row(budget, "calibration: offset (none: one record)", 0, 1, 0);
        row(budget, "resolution (within the scatter of the samples)", 0, 1, 0);
        row(budget, "scatter, non-linearity, noise taken off", 0.1e-3, 1, 0.1e-3);
        assertTrue(budget.lines().stream().noneMatch(line -> line.source().startsWith("timing")));
    }

    /** A difference in volts: what is left of the calibration, two bends, both noises. */
    @Test
    void rowsOfLineRegulationInVolts() {
        Measured value = new Measured(0.092, 0.5e-3, 7e-6, 0, 20, Unit.VOLT);
        Budget budget = of(CALIBRATED, "line-regulation", value);

        row(budget, "calibration: what the difference leaves of it", 7e-6, 1, 7e-6);
        row(budget, "non-linearity, first reading", 0.3e-3, 1, 0.3e-3);
        row(budget, "non-linearity, second reading", 0.3e-3, 1, 0.3e-3);
        double left = Math.sqrt(0.25 - 0.18) * 1e-3;
        row(budget, "noise of both means", left, 1, left);
        row(budget, "lead drop: current times resistance", 0.5e-3, 0, 0);
        assertEquals(value.standardU(), budget.combinedU(), 1e-12);
    }

    @Test
    void rowsOfLoadRegulationAsARatio() {
        Measured value = new Measured(0.003, 50e-6, 1e-6, 80e-6, 20, Unit.RATIO);
        Budget budget = of(CALIBRATED, "load-regulation", value);

        row(budget, "non-linearity and noise of both readings", 50e-6, 1, 50e-6);
        row(budget, "lead drop: current times resistance", 0.5e-3, 0.16, 80e-6);
        row(budget, "resolution (within the scatter of the samples)", 0, 1, 0);
        assertEquals(value.standardU(), budget.combinedU(), 1e-12);
        assertEquals(
                Unit.RATIO,
                line(budget, "calibration: what the difference leaves of it").unit());
    }

    /** 2.5 A between two levels 0.2 A apart: 0.1 A over √3, of which the load's digit of 1 mA takes a part. */
    @Test
    void rowsOfTheCurrentAtWhichTheLimitSetsIn() {
        double random = 0.1 / Math.sqrt(3);
        Measured value = new Measured(2.5, random, Math.hypot(1.25e-3, 0.5e-3), INF, Unit.AMPERE);
        Budget budget = of(CALIBRATED, "current-limit", value);

        row(budget, "gain, data sheet", 500e-6, 2.5, 1.25e-3);
        row(budget, "calibration: offset", 0.5e-3, 1, 0.5e-3);
        row(budget, "resolution", 0.5e-3, 1, 1e-3 / Math.sqrt(12));
        double left = Math.sqrt(random * random - 1e-6 / 12);
        row(budget, "between the last level held and the first not", Math.sqrt(3) * left, 1, left);
        assertEquals(
                "rectangular",
                line(budget, "between the last level held and the first not").distribution());
        assertEquals(value.standardU(), budget.combinedU(), 1e-9);
    }

    @Test
    void rowsOfTheCurrentIntoAShort() {
        Budget budget = of(CALIBRATED, "short-circuit", new Measured(2.6, 1e-3, 2e-3, 9, Unit.AMPERE));

        double left = 1e-3 * Math.sqrt(1 - 1 / 12.0);
        row(budget, "noise", left, 1, left);
        // a digit that the reading's own scatter has no room for
        Budget steady = of(CALIBRATED, "short-circuit", new Measured(2.6, 0.1e-3, 2e-3, 9, Unit.AMPERE));
        assertTrue(steady.lines().stream().noneMatch(line -> line.source().equals("resolution")));
        row(steady, "noise", 0.1e-3, 1, 0.1e-3);
    }

    @Test
    void everyLevelHasARowForTheWindowAndNothingElseDoes() {
        for (String id : List.of("no-load-voltage", "output-voltage", "recovery", "burn-in-output", "burn-in-cooled")) {
            line(of(CALIBRATED, id, volts(12)), "timing of the window");
        }
        assertTrue(of(CALIBRATED, "line-regulation", volts(0.1)).lines().stream()
                .noneMatch(line -> line.source().startsWith("timing")));
    }

    @Test
    void whatHasNoChannelOrNoValueHasNoBudget() {
        List<Budget> budgets = budgets(
                CALIBRATED,
                check("limit-shape", volts(1)),
                check("output-voltage", new Missing("probe off")),
                check("recovery", volts(12)));

        assertEquals(1, budgets.size());
        assertEquals("recovery", budgets.get(0).check().id());
        assertEquals(
                List.of(),
                Budget.of(
                        BenchRun.healthy().data(),
                        new Judgement("p", "", DecisionRule.GUARD_BAND, List.of(check("recovery", volts(12))))));
    }
}
