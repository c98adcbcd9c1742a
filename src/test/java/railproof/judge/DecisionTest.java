package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static railproof.profile.DecisionRule.GUARD_BAND;
import static railproof.profile.DecisionRule.NON_BINARY;
import static railproof.profile.DecisionRule.SIMPLE_ACCEPTANCE;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.profile.Band;
import railproof.profile.DecisionRule;

/** The rules of ILAC-G8:09/2019, section 4.2, on a limit of 100 mV with U = 8 mV. */
class DecisionTest {
    @ParameterizedTest(name = "{0} mV: {1}, {2}, {3}")
    @CsvSource({
        "90,  PASS, PASS, PASS",
        "92,  PASS, PASS, PASS",
        "92.001, PASS, FAIL, CONDITIONAL_PASS",
        "95,  PASS, FAIL, CONDITIONAL_PASS",
        "100, PASS, FAIL, CONDITIONAL_PASS",
        "100.001, FAIL, FAIL, CONDITIONAL_FAIL",
        "103, FAIL, FAIL, CONDITIONAL_FAIL",
        "108, FAIL, FAIL, CONDITIONAL_FAIL",
        "108.001, FAIL, FAIL, FAIL",
        "109, FAIL, FAIL, FAIL"
    })
    void upperLimit(double valueMv, Verdict simple, Verdict guarded, Verdict nonBinary) {
        Band limit = Band.atMost(0.1);
        double value = valueMv / 1000;

        assertEquals(simple, Decision.decide(value, 0.008, limit, false, SIMPLE_ACCEPTANCE));
        assertEquals(guarded, Decision.decide(value, 0.008, limit, false, GUARD_BAND));
        assertEquals(nonBinary, Decision.decide(value, 0.008, limit, false, NON_BINARY));
    }

    /** The lower limit is the upper one in a mirror; a two-sided limit is both at once. */
    @ParameterizedTest
    @CsvSource({"4.75", "4.77", "4.80", "4.9", "5.0", "5.19", "5.2", "5.21", "5.25", "5.3"})
    void bothEndsOfATwoSidedLimitCount(double value) {
        for (DecisionRule rule : DecisionRule.values()) {
            Verdict low = Decision.decide(value, 0.02, Band.atLeast(4.8), false, rule);
            Verdict mirrored = Decision.decide(-value, 0.02, Band.atMost(-4.8), false, rule);
            Verdict high = Decision.decide(value, 0.02, Band.atMost(5.2), false, rule);
            Verdict both = Decision.decide(value, 0.02, new Band(4.8, 5.2), false, rule);

            assertEquals(low, mirrored);
            assertEquals(low.compareTo(high) > 0 ? low : high, both);
        }
    }

    @Test
    void refusesToJudgeWhereTheGuardBandsLeaveNothing() {
        Band limit = new Band(4.8, 5.2);

        assertEquals(Verdict.NOT_JUDGED, Decision.decide(5.0, 0.2, limit, false, GUARD_BAND));
        assertEquals(Verdict.NOT_JUDGED, Decision.decide(5.0, 0.3, limit, false, NON_BINARY));
        assertEquals(Verdict.PASS, Decision.decide(5.0, 0.199, limit, false, NON_BINARY));
        // simple acceptance has no guard band
        assertEquals(Verdict.PASS, Decision.decide(5.0, 0.3, limit, false, SIMPLE_ACCEPTANCE));
        // outside, but by less than U: that is no proof either
        assertEquals(Verdict.NOT_JUDGED, Decision.decide(5.3, 0.3, limit, false, NON_BINARY));
        assertEquals(Verdict.NOT_JUDGED, Decision.decide(4.6, 0.25, limit, false, GUARD_BAND));
        // a dead rail is a fail however poor the voltmeter
        assertEquals(Verdict.FAIL, Decision.decide(0, 0.3, limit, false, NON_BINARY));
    }

    @Test
    void aMagnitudeHasNoRoomBelowZero() {
        Band ripple = Band.atMost(0.005);

        assertEquals(Verdict.NOT_JUDGED, Decision.decide(0.0, 0.006, ripple, true, GUARD_BAND));
        assertEquals(Verdict.PASS, Decision.decide(0.0005, 0.004, ripple, true, GUARD_BAND));
    }

    /** Seeds printed with the failure: a larger U never makes a verdict milder than fail into a pass, on any limit. */
    @Test
    void aLargerUncertaintyNeverTurnsAFailIntoAPass() {
        for (long seed = 1; seed <= 2000; seed++) {
            Random random = new Random(seed);
            double low = random.nextInt(4) == 0 ? Double.NEGATIVE_INFINITY : 5 - random.nextDouble();
            double high = random.nextInt(4) == 0 ? Double.POSITIVE_INFINITY : 5 + random.nextDouble();
            double value = 3 + 4 * random.nextDouble();
            double u = random.nextDouble();
            double more = u + random.nextDouble();
            for (DecisionRule rule : new DecisionRule[] {GUARD_BAND, NON_BINARY}) {
                Verdict before = Decision.decide(value, u, new Band(low, high), false, rule);
                Verdict after = Decision.decide(value, more, new Band(low, high), false, rule);
                boolean failed = before.compareTo(Verdict.NOT_JUDGED) > 0;
                boolean passes = after.compareTo(Verdict.CONDITIONAL_PASS) <= 0;

                assertFalse(failed && passes, "seed " + seed + ": " + before + " became " + after);
                assertTrue(
                        after != Verdict.PASS || before == Verdict.PASS,
                        "seed " + seed + ": " + before + " became a pass");
            }
        }
    }

    /** Seeds printed: nearer to the middle of the band is never judged worse. */
    @Test
    void movingInwardsNeverMakesItWorse() {
        for (long seed = 1; seed <= 2000; seed++) {
            Random random = new Random(seed);
            Band limit = new Band(5 - random.nextDouble(), 5 + random.nextDouble());
            double middle = 0.5 * (limit.low() + limit.high());
            double value = 3 + 4 * random.nextDouble();
            double inner = middle + (value - middle) * random.nextDouble();
            double u = 0.5 * random.nextDouble();
            for (DecisionRule rule : DecisionRule.values()) {
                Verdict outer = Decision.decide(value, u, limit, false, rule);
                Verdict nearer = Decision.decide(inner, u, limit, false, rule);
                assertTrue(nearer.compareTo(outer) <= 0, "seed " + seed + " " + rule);
            }
        }
    }

    @Test
    void refusesNumbersThatAreNone() {
        Band limit = Band.atMost(1);
        assertThrows(
                IllegalArgumentException.class,
                () -> Decision.decide(Double.NaN, 0.1, limit, false, SIMPLE_ACCEPTANCE));
        assertThrows(IllegalArgumentException.class, () -> Decision.decide(0, -0.1, limit, false, GUARD_BAND));
        assertThrows(IllegalArgumentException.class, () -> Decision.decide(0, Double.NaN, limit, false, GUARD_BAND));
    }
}
