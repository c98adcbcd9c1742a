package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.signal.Conformance.Risk;

/** Distributions where a formula is known, and at their ends. */
class DistributionLimitsTest {
    /** What the class promises, relative. */
    private static final double PROMISED = 1e-9;

    /** One degree of freedom is Cauchy's distribution, two have a root. */
    @ParameterizedTest(name = "t = {0}")
    @ValueSource(doubles = {1e-6, 0.01, 0.3, 0.9, 1, 1.5, 3, 12.7, 1000, 1e6})
    void oneAndTwoDegreesOfFreedomHaveAFormula(double t) {
        double oneTail = Math.atan(1 / t) / Math.PI;
        double root = Math.sqrt(2 + t * t);
        double twoTail = 1 / (root * (root + t));
        assertEquals(oneTail, Students.cdf(-t, 1), PROMISED * oneTail);
        assertEquals(1 - oneTail, Students.cdf(t, 1), PROMISED);
        assertEquals(twoTail, Students.cdf(-t, 2), PROMISED * twoTail);
        assertEquals(1 - twoTail, Students.cdf(t, 2), PROMISED);
        if (oneTail > 1e-5) {
            // a tail of 1e-9 is known to 1e-9 of itself, so is the value beyond it
            assertEquals(-t, Students.quantile(oneTail, 1), 1e-7 * t);
            assertEquals(t, Students.quantile(1 - oneTail, 1), 1e-7 * t);
        }
    }

    @Test
    void theEndsOfTheDistributionAreItsLimits() {
        for (double dof : new double[] {1, 5, 1e6, Double.POSITIVE_INFINITY}) {
            assertEquals(0.5, Students.cdf(0, dof), 0);
            assertEquals(0.5, Students.cdf(-0.0, dof), 0);
            assertEquals(0.5, Students.cdf(1e-200, dof), 1e-15);
            assertEquals(1, Students.cdf(1e200, dof), 0);
            assertEquals(0, Students.cdf(-1e200, dof), 0);
            assertEquals(0, Students.quantile(0.5, dof), 0);
        }
    }

    /** Half-widths of 90, 99 and 99.9 % of the normal distribution, from tables of it. */
    @Test
    void normalQuantilesAreTheTabled() {
        assertEquals(1.6448536270, Students.twoSided(0.90, Double.POSITIVE_INFINITY), 1e-9);
        assertEquals(2.5758293035, Students.twoSided(0.99, Double.POSITIVE_INFINITY), 1e-9);
        assertEquals(3.2905267315, Students.twoSided(0.999, Double.POSITIVE_INFINITY), 1e-9);
    }

    @Test
    void theFactorOfAReadingIsThatOfItsDegreesOfFreedom() {
        Measured reading = new Measured(5, 0.02, 0, 10, Unit.VOLT);

        assertEquals(Coverage.P95.factor(10), Coverage.P95.factor(reading), 0);
        assertEquals(0.02 * Coverage.P95.factor(10), Coverage.P95.expandedU(reading), 1e-15);
    }

    /** A factor is a ratio: volts or microvolts make no difference, and next to no scatter is none. */
    @Test
    void theFactorOfARectangleWithScatterIsFreeOfTheUnit() {
        for (Coverage level : Coverage.values()) {
            double expected = level.rectangleAndNormalFactor(1, 0.01);
            assertEquals(expected, level.rectangleAndNormalFactor(1e-3, 1e-5), 1e-12);
            assertEquals(expected, level.rectangleAndNormalFactor(1e3, 10), 1e-12);
            assertEquals(level.rectangleFactor(), level.rectangleAndNormalFactor(1, 0), 0);
            assertEquals(level.rectangleFactor(), level.rectangleAndNormalFactor(5, 1e-8), 0);
        }
    }

    @Test
    void withoutUncertaintyAValueOnItsLimitConforms() {
        assertEquals(1, Conformance.probability(1, 0, 1, 2));
        assertEquals(1, Conformance.probability(2, 0, 1, 2));
        assertEquals(0, Conformance.probability(0.999, 0, 1, 2));
        assertEquals(0, Conformance.probability(2.001, 0, 1, 2));
        // on a limit, far from the other: half
        assertEquals(0.5, Conformance.probability(1, 0.01, 1, 2), 1e-12);
        assertEquals(0.5, Conformance.probability(1, 0.01, 1, Double.POSITIVE_INFINITY), 1e-12);
    }

    /**
     * Units and readings are both normal: a reading lies within the acceptance limits with 2 Φ(A/√(s² + u²)) − 1. Those are
     * the good ones accepted and the bad ones accepted, so false acceptance less false rejection is that less the good.
     */
    @ParameterizedTest(name = "test uncertainty ratio {0}")
    @ValueSource(doubles = {1, 1.5, 2, 4, 10})
    void theTwoRisksDifferByWhatIsAcceptedLessWhatIsGood(double ratio) {
        for (double inTolerance : new double[] {0.8, 0.99}) {
            for (double guardShare : new double[] {0, 0.9}) {
                Risk found = Conformance.globalRisk(ratio, inTolerance, guardShare);

                double unitSd = 1 / Students.twoSided(inTolerance, Double.POSITIVE_INFINITY);
                double readingSd = Math.hypot(unitSd, 0.5 / ratio);
                double accepted = 2 * Students.normalCdf((1 - guardShare / ratio) / readingSd) - 1;
                assertEquals(
                        accepted - inTolerance,
                        found.falseAcceptDimensionless() - found.falseRejectDimensionless(),
                        1e-8);
                assertTrue(found.falseAcceptDimensionless() > 0 && found.falseRejectDimensionless() > 0);
            }
        }
    }

    /** A guard band as wide as the tolerance accepts nothing: no bad unit, and every good one is turned away. */
    @Test
    void aGuardBandOfTheWholeToleranceAcceptsNothing() {
        assertEquals(new Risk(0, 0.9), Conformance.globalRisk(1, 0.9, 1));
        assertEquals(new Risk(0, 0.9), Conformance.globalRisk(0.5, 0.9, 1));
    }

    @Test
    void aBudgetOfNothingIsCoveredAsANormalOne() {
        UncertaintyBudget none = UncertaintyBudget.of(
                UncertaintyBudget.Entry.rectangular("step", 0), UncertaintyBudget.Entry.rectangular("display", 0));

        assertEquals(0, none.combinedU(), 0);
        assertEquals(Double.POSITIVE_INFINITY, none.effectiveDof());
        assertEquals(1.96, none.coverageFactor(Coverage.P95), 1e-3);
        UncertaintyBudget normal = UncertaintyBudget.of(UncertaintyBudget.Entry.normal("noise", 1, 1));
        assertEquals(Coverage.P95.factor(1), normal.coverageFactor(Coverage.P95), 1e-12);
    }

    /** Two quantities that stand still, one at zero, and one that scatters: what is reckoned from them. */
    @Test
    void whatStandsStillAddsNoUncertainty() {
        JointMeans means =
                JointMeans.of(List.of(new double[] {0, 0, 0, 0}, new double[] {5, 5, 5, 5}, new double[] {1, 2, 3, 2}));
        assertEquals(0, means.correlation(0, 1), 0);
        assertEquals(0, means.correlation(0, 2), 0);

        JointMeans found = means.results(List.of(m -> 3 * m[0] + m[1], m -> m[0] + 4 * m[2], m -> -m[2]));

        assertEquals(5, found.mean(0), 1e-12);
        assertEquals(0, found.standardU(0), 1e-12);
        assertEquals(4 * means.standardU(2), found.standardU(1), 1e-9);
        assertEquals(-1, found.correlation(1, 2), 1e-9);
        assertEquals(0, found.correlation(0, 1), 0);
    }

    /** 1 % and 3 % of two readings: 8.686 dB times the root of both squares. */
    @Test
    void aRatioInDecibelsHasItsRelativeUncertainties() {
        Measured found = RippleRejection.of(Measured.of(2, 0.02, Unit.VOLT), Measured.of(0.02, 0.0006, Unit.VOLT));

        assertEquals(40, found.value(), 1e-12);
        assertEquals(20 / Math.log(10) * Math.hypot(0.01, 0.03), found.standardU(), 1e-12);
    }

    /** Of 5 V nominal: both readings' scatter over 5 V, whatever they read. */
    @Test
    void aRatioOfAFixedBaseHasBothScattersOverIt() {
        Measured found = Regulation.ofBase(Measured.of(4.9, 0.03, Unit.VOLT), Measured.of(4.8, 0.04, Unit.VOLT), 5);

        assertEquals(0.02, found.value(), 1e-12);
        assertEquals(0.01, found.randomU(), 1e-12);
    }
}
