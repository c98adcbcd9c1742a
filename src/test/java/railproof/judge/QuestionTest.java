package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.profile.DecisionRule;

/** What stands in a check beside its number: U, k, the test uncertainty ratio, probabilities, doubts. */
class QuestionTest {
    private static Question question(Band limit, boolean neverNegative, DecisionRule rule) {
        return new Question("id", "Title", "+12 V", limit, neverNegative, Unit.VOLT, rule);
    }

    private static Measured volts(double value, double u) {
        return Measured.of(value, u, Unit.VOLT);
    }

    /** 11.8 to 12.4 V and U = 10 mV: 0.6 V over 20 mV is 30. */
    @Test
    void expandedUncertaintyAndItsRatioToTheTolerance() {
        Check check = question(new Band(11.8, 12.4), false, DecisionRule.GUARD_BAND)
                .answer(volts(12, 0.005), "here", List.of());

        assertEquals(2, check.coverageDimensionless(), 1e-4);
        assertEquals(0.010, check.expandedU(), 1e-6);
        assertEquals(30, check.testUncertaintyRatio().orElseThrow(), 1e-3);
        assertEquals("here", check.detail());
        assertEquals(Verdict.PASS, check.verdict());
    }

    @Test
    void aFactorOfItsOwnIsUsedThroughout() {
        Check check = question(new Band(11.8, 12.4), false, DecisionRule.GUARD_BAND)
                .answer(volts(12, 0.005), 1.65, "", List.of());

        assertEquals(1.65, check.coverageDimensionless(), 0);
        assertEquals(0.00825, check.expandedU(), 1e-12);
        // 12.39 is 10 mV inside: passes with U = 8.25 mV, fails its guard band with 10 mV
        Question question = question(new Band(11.8, 12.4), false, DecisionRule.GUARD_BAND);
        assertEquals(
                Verdict.PASS,
                question.answer(volts(12.3905, 0.005), 1.65, "", List.of()).verdict());
        assertEquals(
                Verdict.FAIL,
                question.answer(volts(12.3905, 0.005), "", List.of()).verdict());
    }

    /** An upper limit of 50 mV on a magnitude has a width of 50 mV; on a difference that may be negative it has none. */
    @Test
    void aMagnitudesZoneBeginsAtZero() {
        assertEquals(
                OptionalDouble.of(2.5),
                rounded(question(Band.atMost(0.05), true, DecisionRule.SIMPLE_ACCEPTANCE)
                        .answer(volts(0.02, 0.005), 2, "", List.of())));
        assertEquals(
                OptionalDouble.of(2.0),
                rounded(question(new Band(0.01, 0.05), true, DecisionRule.SIMPLE_ACCEPTANCE)
                        .answer(volts(0.02, 0.005), 2, "", List.of())));
        assertEquals(
                OptionalDouble.empty(),
                question(Band.atMost(0.05), false, DecisionRule.SIMPLE_ACCEPTANCE)
                        .answer(volts(0.02, 0.005), 2, "", List.of())
                        .testUncertaintyRatio());
        assertEquals(
                OptionalDouble.empty(),
                question(Band.atLeast(1), false, DecisionRule.SIMPLE_ACCEPTANCE)
                        .answer(volts(2, 0.005), 2, "", List.of())
                        .testUncertaintyRatio());
    }

    private static OptionalDouble rounded(Check check) {
        return OptionalDouble.of(Math.round(1e6 * check.testUncertaintyRatio().orElseThrow()) / 1e6);
    }

    @Test
    void withoutUncertaintyOrWidthThereIsNoRatio() {
        assertTrue(question(new Band(1, 2), false, DecisionRule.SIMPLE_ACCEPTANCE)
                .answer(volts(1.5, 0), "", List.of())
                .testUncertaintyRatio()
                .isEmpty());
        assertTrue(question(new Band(2, 2), false, DecisionRule.SIMPLE_ACCEPTANCE)
                .answer(volts(2, 0.1), "", List.of())
                .testUncertaintyRatio()
                .isEmpty());
    }

    /** U = 8 mV about a limit of 100 mV: at the limit half, at u above it 16 %, at u below 84 % (normal distribution). */
    @ParameterizedTest
    @CsvSource({"0.100, 50", "0.104, 16", "0.096, 84"})
    void aConditionalVerdictSaysHowProbableConformityIs(double value, int percent) {
        Check check = question(Band.atMost(0.1), false, DecisionRule.NON_BINARY)
                .answer(volts(value, 0.004), "at CC 2 A", List.of());

        assertTrue(check.detail().endsWith("; conforms with a probability of " + percent + " %"), check.detail());
    }

    @Test
    void aClearVerdictSaysNothingOfProbabilities() {
        for (double value : new double[] {0.09, 0.11}) {
            assertFalse(question(Band.atMost(0.1), false, DecisionRule.NON_BINARY)
                    .answer(volts(value, 0.004), "", List.of())
                    .detail()
                    .contains("probability"));
        }
    }

    /** A doubt turns a pass, conditional or not, into no judgement; a fail stays one; the words stand behind the detail. */
    @ParameterizedTest
    @CsvSource({
        "0.090, NOT_JUDGED",
        "0.099, NOT_JUDGED",
        "0.101, CONDITIONAL_FAIL",
        "0.120, FAIL",
    })
    void doubtsStopAPassAndNoFail(double value, Verdict verdict) {
        Check check = question(Band.atMost(0.1), false, DecisionRule.NON_BINARY)
                .answer(volts(value, 0.004), "seen", List.of("the line did not move", "the load drew nothing"));

        assertEquals(verdict, check.verdict());
        assertTrue(check.detail().startsWith("seen; "), check.detail());
        assertTrue(check.detail().contains("; the line did not move; the load drew nothing"), check.detail());
    }

    @Test
    void guardBandsThatLeaveNothingAreSaid() {
        Check check =
                question(new Band(4.9, 5.1), false, DecisionRule.GUARD_BAND).answer(volts(5, 0.06), "seen", List.of());

        assertEquals(Verdict.NOT_JUDGED, check.verdict());
        assertEquals("seen; uncertainty too large for this limit", check.detail());
    }

    /** 3 mV inside with U = 8 mV is worse than 1 mV inside with U = 2 mV. */
    @Test
    void badnessCountsTheUncertainty() {
        Question question = question(Band.atMost(0.1), false, DecisionRule.GUARD_BAND);

        assertEquals(0.005, question.badness(volts(0.097, 0.004)), 1e-6);
        assertEquals(0.001, question.badness(volts(0.099, 0.001)), 1e-6);
    }
}
