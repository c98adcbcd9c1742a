package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.stream.Stream;
import org.apache.commons.math3.stat.StatUtils;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Against the NIST Statistical Reference Datasets, univariate (public information). Tolerances: the rounding of the
 * input itself is the floor for NumAcc3 and 4 (0.1 on top of 1e6 and 1e7 in 53 bits: 3.5e-10 and 5.6e-9 of s).
 */
class NistStatisticsTest {
    static Stream<Arguments> sets() throws IOException {
        return Stream.of(
                Arguments.of("NumAcc1", NistData.column("strd-numacc1.csv", 0), 10000002.0, 1.0, -0.5, 1e-13),
                Arguments.of("NumAcc2", numAcc(1), 1.2, 0.1, -0.999, 2e-12),
                Arguments.of("NumAcc3", numAcc(1_000_000), 1000000.2, 0.1, -0.999, 1e-9),
                Arguments.of("NumAcc4", numAcc(10_000_000), 10000000.2, 0.1, -0.999, 1e-8),
                Arguments.of(
                        "Michelso",
                        NistData.column("strd-michelso.csv", 0),
                        299.852400000000,
                        0.0790105478190518,
                        0.535199668621283,
                        2e-12),
                Arguments.of(
                        "Mavro",
                        NistData.column("strd-mavro.csv", 0),
                        2.00185600000000,
                        0.000429123454003053,
                        0.937989183438248,
                        2e-12));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("sets")
    void reproducesTheCertifiedValues(
            String name, double[] y, double mean, double sd, double lag1, double sdTolerance) {
        Statistics found = Statistics.of(y);

        assertEquals(mean, found.meanDimensionless(), 1e-13 * mean, name);
        assertEquals(sd, found.sdDimensionless(), sdTolerance * sd, name);
        assertEquals(lag1, found.lag1Dimensionless(), 1e-8, name);
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("sets")
    void agreesWithAnIndependentLibrary(
            String name, double[] y, double mean, double sd, double lag1, double sdTolerance) {
        Statistics found = Statistics.of(y);

        assertEquals(StatUtils.mean(y), found.meanDimensionless(), 1e-13 * mean, name);
        assertEquals(Math.sqrt(StatUtils.variance(y)), found.sdDimensionless(), 1e-12 * sd, name);
    }

    /** The data sets are there to catch this: it shows that they would. */
    @Test
    void onePassSumsFailOnTheSameData() {
        double onNumAcc3 = onePassVariance(numAcc(1_000_000));
        double onNumAcc4 = onePassVariance(numAcc(10_000_000));

        assertTrue(Math.abs(Math.sqrt(Math.max(0, onNumAcc3)) - 0.1) > 0.001, "NumAcc3 off by over 1 %: " + onNumAcc3);
        assertTrue(onNumAcc4 <= 0 || Math.abs(Math.sqrt(onNumAcc4) - 0.1) > 0.05, "NumAcc4 useless: " + onNumAcc4);
    }

    private static double onePassVariance(double[] y) {
        double sum = 0;
        double squares = 0;
        for (double v : y) {
            sum += v;
            squares += v * v;
        }
        return (squares - sum * sum / y.length) / (y.length - 1);
    }

    /** NumAcc2 to 4 are made by rule: base + .2, then 500 pairs base + .1, base + .3. */
    private static double[] numAcc(int base) {
        double[] y = new double[1001];
        y[0] = Double.parseDouble(base + ".2");
        for (int i = 1; i < y.length; i++) {
            y[i] = Double.parseDouble(base + (i % 2 == 1 ? ".1" : ".3"));
        }
        return y;
    }
}
