package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ConformanceTest {
    private static final double INF = Double.POSITIVE_INFINITY;

    /** JCGM 106:2012, 7.3.3, examples 1 and 2 (the input numbers from memory; results recomputed). */
    @Test
    void oneSidedExamples() {
        assertEquals(0.919, Conformance.probability(-5.47, 0.05, -INF, -5.40), 0.001);
        assertEquals(0.989, Conformance.probability(509.7, 8.6, 490, INF), 0.001);
    }

    /** JCGM 106:2012, table 1 (from memory; recomputed): how many u from the limit for a given probability. */
    @ParameterizedTest
    @CsvSource({"0.80, 0.84", "0.90, 1.28", "0.95, 1.64", "0.99, 2.33", "0.999, 3.09"})
    void distancesForAGivenProbability(double probability, double z) {
        assertEquals(z, Students.quantile(probability, INF), 0.005);
        assertEquals(probability, Conformance.probability(1 - z * 0.1, 0.1, -INF, 1), 0.002);
    }

    /** ILAC-G8:09/2019, 4.2: at the limit at most 50 % false accept, at TL − U (k = 2) at most 2.5 % (2.28 %). */
    @Test
    void falseAcceptOfASingleItem() {
        assertEquals(0.5, Conformance.probability(100, 4, -INF, 100), 1e-12);
        assertEquals(0.0228, 1 - Conformance.probability(92, 4, -INF, 100), 0.0001);
        assertEquals(0.05, 1 - Conformance.probability(100 - 1.645 * 4, 4, -INF, 100), 0.0001);
    }

    @Test
    void twoLimitsCountBoth() {
        assertEquals(0.9545, Conformance.probability(5, 0.1, 4.8, 5.2), 0.0001);
        assertEquals(1, Conformance.probability(5, 0, 4.8, 5), 0);
        assertEquals(0, Conformance.probability(5.1, 0, 4.8, 5), 0);
    }

    /** Published examples: 0.20 bar with U = 2 x 0.0269 gives 3.72; 0.010 over 0.002 is 5.0, over 0.004 2.5. */
    @Test
    void testUncertaintyRatios() {
        assertEquals(3.72, Conformance.testUncertaintyRatio(2 * 0.20, 2 * 0.0269), 0.005);
        assertEquals(5.0, Conformance.testUncertaintyRatio(0.020, 0.002), 1e-12);
        assertEquals(2.5, Conformance.testUncertaintyRatio(0.020, 0.004), 1e-12);
    }

    /**
     * TUR 4, k = 2, 95 % in tolerance: "PFA below 1 %, PFR slightly above 1.5 %" (published); the rest computed
     * independently; 0.02 percentage points.
     */
    @ParameterizedTest
    @CsvSource({"4, 0, 0.86, 1.55", "2, 0, 1.34, 4.18", "1, 0, 1.80, 12.96", "4, 1, 0.021, 10.4"})
    void globalRisk(double ratio, double guard, double falseAcceptPercent, double falseRejectPercent) {
        Conformance.Risk risk = Conformance.globalRisk(ratio, 0.95, guard);

        assertEquals(falseAcceptPercent, 100 * risk.falseAcceptDimensionless(), 0.02);
        assertEquals(falseRejectPercent, 100 * risk.falseRejectDimensionless(), falseRejectPercent > 10 ? 0.06 : 0.02);
    }

    @Test
    void guardBandWiderThanTheToleranceRejectsEverything() {
        Conformance.Risk risk = Conformance.globalRisk(0.8, 0.95, 1);

        assertEquals(0, risk.falseAcceptDimensionless(), 0);
        assertTrue(Math.abs(risk.falseRejectDimensionless() - 0.95) < 1e-12);
    }
}
