package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.TDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CoverageTest {
    /** GUM (JCGM 100:2008) table G.2; two decimals are printed, hence 0.005. */
    @ParameterizedTest
    @CsvSource({
        "1, 12.71, 13.97, 63.66",
        "2, 4.30, 4.53, 9.92",
        "3, 3.18, 3.31, 5.84",
        "4, 2.78, 2.87, 4.60",
        "5, 2.57, 2.65, 4.03",
        "10, 2.23, 2.28, 3.17",
        "16, 2.12, 2.17, 2.92",
        "20, 2.09, 2.13, 2.85",
        "50, 2.01, 2.05, 2.68",
        "Infinity, 1.960, 2.000, 2.576"
    })
    void agreesWithTheGumsTable(double dof, double k95, double k9545, double k99) {
        assertEquals(k95, Coverage.P95.factor(dof), 0.0051);
        assertEquals(k9545, Coverage.P95_45.factor(dof), 0.0051);
        assertEquals(k99, Coverage.P99.factor(dof), 0.0051);
    }

    /** The claim is 1e-6 relative; the library's own solver is told to go further than that. */
    @Test
    void quantilesAgreeWithAnIndependentLibrary() {
        for (double dof : new double[] {1, 1.5, 2, 3, 4.7, 10, 29, 100, 1000, 20000}) {
            TDistribution reference = new TDistribution(null, dof, 1e-13);
            for (double p : new double[] {0.0005, 0.025, 0.2, 0.5, 0.7, 0.95, 0.97725, 0.995, 0.9999}) {
                double expected = reference.inverseCumulativeProbability(p);
                assertEquals(expected, Students.quantile(p, dof), 1e-6 * Math.abs(expected) + 1e-9, dof + " " + p);
            }
        }
    }

    @Test
    void normalProbabilitiesAgreeWithAnIndependentLibrary() {
        NormalDistribution reference = new NormalDistribution();
        for (double z = -6; z <= 6; z += 0.25) {
            double expected = reference.cumulativeProbability(z);
            assertEquals(expected, Students.normalCdf(z), 1e-12 + 1e-10 * expected, "z " + z);
        }
    }

    @Test
    void cutsDegreesOfFreedomDownNotUp() {
        assertEquals(Coverage.P95_45.factor(10), Coverage.P95_45.factor(10.4), 0);
        assertEquals(Coverage.P95_45.factor(10), Coverage.P95_45.factor(10.99), 0);
    }

    /** EA-4/02 M:2022, S9: k = 1.65 for one dominant rectangle; S10 and S11: 1.83 and 1.81 for two. */
    @Test
    void dominantRectanglesNeedLessThanTwo() {
        assertEquals(1.65, Coverage.P95.rectangleFactor(), 0.005);
        // equal rectangles make a triangle: (1 - sqrt 0.05) sqrt 6
        assertEquals(1.9018, Coverage.P95.trapezoidFactor(1, 1), 1e-4);
        // one alone is a rectangle
        assertEquals(Coverage.P95.rectangleFactor(), Coverage.P95.trapezoidFactor(1, 0), 1e-12);
        // S10: half-widths 50 um and 25 um (the two widths from memory), printed 1.83
        assertEquals(1.83, Coverage.P95.trapezoidFactor(2, 1), 0.01);
        // S11: half-widths 0.25 K and 0.10 K (from memory), printed 1.81; the formula gives 1.797
        assertEquals(1.81, Coverage.P95.trapezoidFactor(0.25, 0.10), 0.02);
    }

    /** The trapezoid's factor against a direct numerical convolution of the two rectangles. */
    @Test
    void trapezoidFactorIsTheQuantileOfTheConvolution() {
        for (double ratio : new double[] {0, 0.02, 0.1, 0.3, 0.5, 0.8, 1}) {
            for (Coverage level : Coverage.values()) {
                double k = level.trapezoidFactor(1, ratio);
                double half = k * Math.sqrt((1 + ratio * ratio) / 3);
                assertEquals(level.probability(), insideOfSum(half, ratio), 1e-5, level + " " + ratio);
            }
        }
    }

    /** The factor for a rectangle with normal scatter against random numbers of both, and at its two ends. */
    @Test
    void rectangleWithScatterIsCoveredAsStated() {
        java.util.Random random = new java.util.Random(3);
        for (double normalU : new double[] {0.1, 0.3, 1, 3}) {
            double half = Coverage.P95_45.rectangleAndNormalFactor(1, normalU) * Math.sqrt(1 / 3.0 + normalU * normalU);
            int inside = 0;
            int draws = 200_000;
            for (int i = 0; i < draws; i++) {
                double sum = 2 * random.nextDouble() - 1 + normalU * random.nextGaussian();
                inside += Math.abs(sum) <= half ? 1 : 0;
            }
            // standard deviation of the share: sqrt(0.9545 * 0.0455 / 200000) = 0.0005
            assertEquals(0.9545, (double) inside / draws, 0.002, "normal u " + normalU);
        }
        assertEquals(Coverage.P95.rectangleFactor(), Coverage.P95.rectangleAndNormalFactor(1, 1e-5), 1e-4);
        assertEquals(2.0, Coverage.P95_45.rectangleAndNormalFactor(0.01, 1), 1e-3);
    }

    private static double insideOfSum(double half, double ratio) {
        int n = 200_000;
        double sum = 0;
        for (int i = 0; i < n; i++) {
            double second = ratio * (2 * (i + 0.5) / n - 1);
            sum += Math.max(0, Math.min(1, half - second) - Math.max(-1, -half - second)) / 2;
        }
        return sum / n;
    }

    @Test
    void refusesImpossibleArguments() {
        assertThrows(IllegalArgumentException.class, () -> Students.quantile(1, 5));
        assertThrows(IllegalArgumentException.class, () -> Students.quantile(0.5001, 0.5));
        assertThrows(IllegalArgumentException.class, () -> Coverage.P95.factor(0.9));
    }
}
