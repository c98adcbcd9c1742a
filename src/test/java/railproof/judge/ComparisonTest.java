package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.profile.DecisionRule;
import railproof.profile.SourceText;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunHeader;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.run.Stage;

class ComparisonTest {
    private static final double INFINITE = Double.POSITIVE_INFINITY;

    @Test
    void theSharedPartCancelsOnlyOnTheSameRig() {
        Measured before = new Measured(4.90, 0.003, 0.010, INFINITE, Unit.VOLT);
        Measured after = new Measured(4.98, 0.004, 0.010, INFINITE, Unit.VOLT);
        // varying: sqrt(3² + 4²) = 5 mV; shared on two rigs: sqrt(2)·10 mV; so u² = 25 + 200 = 225, u = 15 mV, k = 2
        // (2.00002 to be exact: 95.45 % is rounded)
        assertEquals(0.010, Comparison.change(before, after, true).expandedU(), 2e-7);
        assertEquals(0.030, Comparison.change(before, after, false).expandedU(), 6e-7);
        assertTrue(Comparison.change(before, after, false).significant());
        assertEquals(
                0.08,
                Comparison.change(before, after, true)
                        .difference()
                        .measured()
                        .orElseThrow()
                        .value(),
                1e-15);
    }

    @Test
    void fewReadingsMakeTheFactorLarger() {
        Measured before = new Measured(4.90, 0.003, 0, 4, Unit.VOLT);
        Measured after = new Measured(4.98, 0.003, 0, 4, Unit.VOLT);

        Comparison.Change change = Comparison.change(before, after, true);

        // 4 and 4 degrees of freedom make 8 (GUM G.2b); GUM table G.2, 95.45 %: 2.37
        assertEquals(2.37, change.coverageDimensionless(), 0.005);
        assertEquals(2.37 * Math.sqrt(18) * 1e-3, change.expandedU(), 0.005 * 0.0042);
    }

    @Test
    void comparingTheOtherWayRoundTurnsTheSignAndKeepsTheUncertainty() {
        long seed = 7;
        Random random = new Random(seed);
        for (int i = 0; i < 500; i++) {
            Measured a = any(random);
            Measured b = any(random);
            boolean sameRig = random.nextBoolean();
            Comparison.Change there = Comparison.change(a, b, sameRig);
            Comparison.Change back = Comparison.change(b, a, sameRig);
            assertEquals(value(there), -value(back), "seed " + seed);
            assertEquals(there.expandedU(), back.expandedU(), 1e-12 * there.expandedU(), "seed " + seed);
            assertTrue(there.coverageDimensionless() >= 2, "seed " + seed);
        }
    }

    @Test
    void aMissingSideMakesTheDifferenceMissingAndSaysWhichAndWhy() {
        Measured there = Measured.of(1, 0.1, Unit.VOLT);
        Comparison.Change change = Comparison.change(new Missing("probe fell off"), there, true);
        assertEquals(new Missing("before: probe fell off"), change.difference());
        assertFalse(change.significant());
    }

    @Test
    void checksAreMatchedByNameAndRailAndNoneIsLost() {
        Judgement before = judged(
                check("load-regulation", "+5 V", 0.02, Verdict.FAIL), check("ripple", "+5 V", 0.1, Verdict.PASS));
        Judgement after = judged(
                check("load-regulation", "+12 V", 0.01, Verdict.PASS),
                check("load-regulation", "+5 V", 0.005, Verdict.PASS));
        Comparison comparison = Comparison.of(run("rig", "cal"), before, run("rig", "cal"), after);
        assertEquals(
                List.of("load-regulation +5 V", "ripple +5 V", "load-regulation +12 V"),
                comparison.checks().stream()
                        .map(row -> row.id() + " " + row.rail())
                        .toList());
        assertTrue(comparison.checks().get(0).verdictChanged());
        assertEquals(-0.015, value(comparison.checks().get(0).change()), 1e-15);
        assertTrue(comparison.checks().get(1).after().isEmpty());
        assertTrue(comparison.checks().get(1).change().difference() instanceof Missing);
    }

    /** Pass or fail counts with or without condition; not judged is neither. */
    @ParameterizedTest
    @CsvSource({
        "FAIL, PASS, true, false",
        "CONDITIONAL_FAIL, CONDITIONAL_PASS, true, false",
        "PASS, FAIL, false, true",
        "CONDITIONAL_PASS, CONDITIONAL_FAIL, false, true",
        "PASS, CONDITIONAL_PASS, false, false",
        "FAIL, CONDITIONAL_FAIL, false, false",
        "NOT_JUDGED, PASS, false, false",
        "FAIL, NOT_JUDGED, false, false",
        "PASS, NOT_JUDGED, false, false",
        "PASS, PASS, false, false"
    })
    void whatTurnedFromFailToPassIsFoundAndTheOtherWayRound(
            Verdict before, Verdict after, boolean failToPass, boolean passToFail) {
        Comparison.CheckRow row = Comparison.of(
                        run("rig", "cal"),
                        judged(check("ripple", "+5 V", 0.1, before)),
                        run("rig", "cal"),
                        judged(check("ripple", "+5 V", 0.1, after)))
                .checks()
                .get(0);

        assertEquals(failToPass, row.failToPass());
        assertEquals(passToFail, row.passToFail());
        assertEquals(before != after, row.verdictChanged());
    }

    @Test
    void aCheckThatIsOnOneSideOnlyTurnedNowhere() {
        Comparison.CheckRow row = Comparison.of(
                        run("rig", "cal"),
                        judged(check("ripple", "+5 V", 0.1, Verdict.FAIL)),
                        run("rig", "cal"),
                        judged())
                .checks()
                .get(0);

        assertFalse(row.failToPass());
        assertFalse(row.passToFail());
        assertTrue(row.verdictChanged());
    }

    /** On the edge of U a difference is not larger than it. */
    @Test
    void aDifferenceIsSignificantOnlyBeyondItsUncertainty() {
        Reading tenth = Measured.of(0.1, 0.05, Unit.VOLT);

        assertFalse(new Comparison.Change(tenth, 0.1, 2).significant());
        assertTrue(new Comparison.Change(tenth, 0.0999, 2).significant());
        assertTrue(new Comparison.Change(Measured.of(-0.1, 0.05, Unit.VOLT), 0.0999, 2).significant());
    }

    @Test
    void differentUnitsAreNotSubtracted() {
        Comparison.Change change =
                Comparison.change(Measured.of(0.01, 0.001, Unit.RATIO), Measured.of(0.05, 0.001, Unit.VOLT), true);

        assertEquals(new Missing("the two are in different units: ratio, V"), change.difference());
        assertEquals(0, change.expandedU(), 0);
    }

    @Test
    void onlyTheLoadSweepIsComparedPointByPoint() {
        Point loaded = point(0, 1.0, 5);
        Point limit = new Point(
                1,
                Section.CURRENT_LIMIT,
                "+5 V",
                new Setpoint("CC", 3, 115),
                1,
                true,
                loaded.readings(),
                OptionalInt.empty(),
                "");

        assertEquals(
                2,
                Comparison.of(run("rig", "cal", loaded, limit), judged(), run("rig", "cal", loaded), judged())
                        .points()
                        .size());
    }

    @Test
    void anotherCalibrationIsAnotherRig() {
        assertTrue(Comparison.of(run("rig", "cal"), judged(), run("rig", "cal"), judged())
                .sameRig());
        assertFalse(Comparison.of(run("rig", "cal"), judged(), run("rig", "new"), judged())
                .sameRig());
        assertFalse(Comparison.of(run("rig", "cal"), judged(), run("new", "cal"), judged())
                .sameRig());
    }

    @Test
    void loadPointsAreMatchedByWhatWasAskedFor() {
        RunData before = run("rig", "cal", point(0, 0.0, 5.00), point(1, 1.0, 4.80));
        RunData after = run("rig", "cal", point(0, 1.0, 4.99), point(1, 2.0, 4.97));
        List<Comparison.PointRow> rows = Comparison.of(before, judged(), after, judged()).points().stream()
                .filter(row -> row.quantity() == Quantity.OUTPUT)
                .toList();
        assertEquals(
                List.of(0.0, 1.0, 2.0),
                rows.stream().map(row -> row.asked().level()).toList());
        assertEquals(0.19, value(rows.get(1).change()), 1e-12);
        assertEquals(new Missing("no point of this load"), rows.get(0).after());
        assertEquals(new Missing("no point of this load"), rows.get(2).before());
    }

    private static double value(Comparison.Change change) {
        return change.difference().measured().orElseThrow().value();
    }

    private static Measured any(Random random) {
        double dof = random.nextBoolean() ? INFINITE : 1 + 50 * random.nextDouble();
        return new Measured(random.nextGaussian(), random.nextDouble(), random.nextDouble(), dof, Unit.VOLT);
    }

    private static Check check(String id, String rail, double value, Verdict verdict) {
        Reading reading = Measured.of(value, 0.001, Unit.RATIO);
        return new Check(id, id, rail, reading, 0.002, 2, Band.atMost(0.01), Unit.RATIO, verdict, "");
    }

    private static Judgement judged(Check... checks) {
        return new Judgement("p", "00", DecisionRule.NON_BINARY, List.of(checks));
    }

    private static Point point(int index, double currentA, double outputV) {
        Map<Quantity, Reading> readings = Map.of(Quantity.OUTPUT, Measured.of(outputV, 0.001, Unit.VOLT));
        Setpoint asked = new Setpoint("CC", currentA, 115);
        return new Point(index, Section.LOAD_SWEEP, "+5 V", asked, index, true, readings, OptionalInt.empty(), "");
    }

    private static RunData run(String rigDigest, String calibrationDigest, Point... points) {
        RunHeader header = new RunHeader(
                "id",
                "LC2107",
                Stage.AS_LEFT,
                "",
                Instant.EPOCH,
                "0.1.0",
                new SourceText("p", "", ""),
                new SourceText("r", "", rigDigest),
                new SourceText("c", "", calibrationDigest),
                false,
                "",
                List.of());
        RunOutcome outcome = new RunOutcome(RunOutcome.End.COMPLETED, "", List.of(), SafeState.CONFIRMED);
        return new RunData(header, List.of(points), List.of(), List.of(), outcome);
    }
}
