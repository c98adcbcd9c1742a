package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.util.Random;
import org.apache.commons.math3.stat.regression.SimpleRegression;
import org.junit.jupiter.api.Test;

class StraightLineTest {
    /** NIST StRD linear regression, Norris; 1e-11 is fifty times what two-pass doubles reach. */
    @Test
    void reproducesNistNorris() throws IOException {
        StraightLine line =
                StraightLine.fit(NistData.column("strd-norris.csv", 0), NistData.column("strd-norris.csv", 1));

        near(-0.262323073774029, line.interceptDimensionless(), 1e-11);
        near(1.00211681802045, line.slopeDimensionless(), 1e-11);
        near(0.232818234301152, line.interceptU(), 1e-11);
        near(0.429796848199937e-03, line.slopeU(), 1e-11);
        near(0.884796396144373, line.residualSdDimensionless(), 1e-11);
        near(0.999993745883712, line.rSquaredRatio(), 1e-11);
        assertEquals(34, line.dof());
        // the certified table of variance
        double meanSquare = line.residualSdDimensionless() * line.residualSdDimensionless();
        double f = Math.pow(line.slopeDimensionless() / line.slopeU(), 2);
        near(0.782864662630069, meanSquare, 1e-11);
        near(26.6173985294224, meanSquare * line.dof(), 1e-11);
        near(5436385.54079785, f, 1e-11);
        near(4255954.13232369, f * meanSquare, 1e-11);
    }

    /** NIST StRD linear regression, NoInt1: R² about zero, as certified for lines through the origin. */
    @Test
    void reproducesNistNoInt1() {
        double[] x = new double[11];
        double[] y = new double[11];
        for (int i = 0; i < 11; i++) {
            x[i] = 60 + i;
            y[i] = 130 + i;
        }

        StraightLine line = StraightLine.throughOrigin(x, y);

        near(2.07438016528926, line.slopeDimensionless(), 1e-11);
        near(0.0165289256198347, line.slopeU(), 1e-11);
        near(3.56753034006338, line.residualSdDimensionless(), 1e-11);
        near(0.999365492298663, line.rSquaredRatio(), 1e-11);
    }

    /** NIST StRD linear regression, NoInt2. */
    @Test
    void reproducesNistNoInt2() {
        StraightLine line = StraightLine.throughOrigin(new double[] {4, 5, 6}, new double[] {3, 4, 4});

        near(0.727272727272727, line.slopeDimensionless(), 1e-11);
        near(0.0420827318078432, line.slopeU(), 1e-11);
    }

    /** GUM (JCGM 100:2008) H.3, thermometer calibration; further digits recomputed with 60-digit decimals. */
    @Test
    void reproducesTheGumsCalibrationLine() {
        double[] t = {21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511};
        double[] b = {-.171, -.169, -.166, -.159, -.164, -.165, -.156, -.157, -.159, -.161, -.160};
        double[] over20 = new double[t.length];
        for (int i = 0; i < t.length; i++) {
            over20[i] = t[i] - 20;
        }

        StraightLine line = StraightLine.fit(over20, b);

        near(-0.171203790131, line.interceptDimensionless(), 1e-9);
        near(0.002182697740, line.slopeDimensionless(), 1e-9);
        near(0.002877597835, line.interceptU(), 1e-9);
        near(0.000667938773, line.slopeU(), 1e-9);
        near(-0.930429603, line.correlation(), 1e-9);
        near(0.003497563964, line.residualSdDimensionless(), 1e-9);
        near(-0.149376812732, line.at(10), 1e-9);
        near(0.004138595753, line.standardUAt(10), 1e-9);
        assertEquals(9, line.dof());
        // as printed
        assertEquals(-0.1712, line.interceptDimensionless(), 0.00005);
        assertEquals(0.00218, line.slopeDimensionless(), 0.000005);
        assertEquals(0.0041, line.standardUAt(10), 0.00005);
    }

    @Test
    void agreesWithAnIndependentLibraryOnRandomLines() {
        for (long seed = 1; seed <= 50; seed++) {
            Random random = new Random(seed);
            int n = 3 + random.nextInt(40);
            double[] x = new double[n];
            double[] y = new double[n];
            SimpleRegression reference = new SimpleRegression();
            for (int i = 0; i < n; i++) {
                x[i] = 100 * random.nextDouble();
                y[i] = 12 - 0.02 * x[i] + 0.01 * random.nextGaussian();
                reference.addData(x[i], y[i]);
            }

            StraightLine line = StraightLine.fit(x, y);

            assertEquals(reference.getSlope(), line.slopeDimensionless(), 1e-10, "seed " + seed);
            assertEquals(reference.getIntercept(), line.interceptDimensionless(), 1e-9, "seed " + seed);
            assertEquals(reference.getSlopeStdErr(), line.slopeU(), 1e-9, "seed " + seed);
            assertEquals(reference.getInterceptStdErr(), line.interceptU(), 1e-8, "seed " + seed);
        }
    }

    /** Equal weights are no weights: same line, and with the residual sd as each point's u the same uncertainties. */
    @Test
    void weightedFitWithEqualWeightsIsThePlainFit() {
        double[] x = {0, 0.5, 1, 1.5, 2};
        double[] y = {12.169, 12.158, 12.151, 12.142, 12.134};
        StraightLine plain = StraightLine.fit(x, y);
        double[] u = new double[5];
        java.util.Arrays.fill(u, plain.residualSdDimensionless());

        StraightLine weighted = StraightLine.fitWeighted(x, y, u);

        near(plain.slopeDimensionless(), weighted.slopeDimensionless(), 1e-12);
        near(plain.slopeU(), weighted.slopeU(), 1e-12);
        near(plain.interceptU(), weighted.interceptU(), 1e-12);
        near(1, weighted.residualSdDimensionless(), 1e-12);
    }

    /** By hand: weights 1 and 1/4 against 1, points on either side of a step. */
    @Test
    void weightsPullTheLineToTheSurerPoint() {
        StraightLine line =
                StraightLine.fitWeighted(new double[] {0, 1, 1}, new double[] {0, 1, 2}, new double[] {1, 1, 2});

        // at x = 1 the weighted mean of 1 (weight 1) and 2 (weight 1/4) is 1.2
        near(1.2, line.slopeDimensionless(), 1e-12);
        near(1, line.interceptU(), 1e-12);
    }

    /**
     * A 12 V, 2 A Darlington regulator in an independent circuit simulator: 12.16392 V at 0.2 A, 12.13430 V at 2 A,
     * 16.5 mΩ; the middle point at 1 A lies a little off the line.
     */
    @Test
    void slopeOfTheLoadLineIsTheOutputResistance() {
        StraightLine line = StraightLine.fit(new double[] {0.2, 1, 2}, new double[] {12.16392, 12.15129, 12.13430});

        assertEquals(0.0165, line.outputResistance().value(), 0.05 * 0.0165);
        // its small-signal value at 100 Hz
        assertEquals(0.01593, line.outputResistance().value(), 0.05 * 0.01593);
    }

    @Test
    void refusesPointsThatDetermineNoLine() {
        assertThrows(IllegalArgumentException.class, () -> StraightLine.fit(new double[] {1, 1, 1}, new double[3]));
        assertThrows(IllegalArgumentException.class, () -> StraightLine.fit(new double[3], new double[4]));
        assertThrows(
                IllegalArgumentException.class, () -> StraightLine.fit(new double[] {1, 2, Double.NaN}, new double[3]));
    }

    private static void near(double expected, double actual, double relative) {
        assertEquals(expected, actual, relative * Math.abs(expected));
    }
}
