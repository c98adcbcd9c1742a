package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.MatrixUtils;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Exponentials without noise, or with a known pattern in its place: 101 readings, one a second. */
class WarmUpClosedFormsTest {
    private static final int N = 101;
    /** The search ends where the sum of squares no longer changes: at the root of a double's rounding. */
    private static final double SEARCH = 1e-6;

    private static double[] times(double startS) {
        double[] t = new double[N];
        for (int i = 0; i < N; i++) {
            t[i] = startS + i;
        }
        return t;
    }

    /** A tone of so many samples a period stands for noise. */
    private static double[] creep(double stepV, double tauS, double noiseV, double period) {
        double[] v = new double[N];
        for (int i = 0; i < N; i++) {
            v[i] = 5 + stepV * Math.exp(-i / tauS) + noiseV * Math.cos(2 * Math.PI * i / period);
        }
        return v;
    }

    private static WarmUp of(double[] v) {
        return WarmUp.of(times(0), v).orElseThrow();
    }

    @ParameterizedTest(name = "time constant of {0} s")
    @ValueSource(doubles = {2.1, 5, 17, 40, 99})
    void anyTimeConstantBetweenTwoReadingsAndTheRecordIsFound(double tauS) {
        for (double stepV : new double[] {0.02, -0.02}) {
            WarmUp found = of(creep(stepV, tauS, 0, 2));

            assertEquals(tauS, found.tauS(), SEARCH * tauS);
            assertEquals(stepV, found.stepV(), 0.02 * 10 * SEARCH);
            assertEquals(5, found.endV(), 0.02 * 10 * SEARCH);
        }
    }

    /** The record is 100 s long, two readings of 101 are 1.98 s. */
    @ParameterizedTest(name = "time constant of {0} s")
    @ValueSource(doubles = {0.5, 1.9, 101, 150, 1000})
    void aTimeConstantOutsideOfThatIsNotShown(double tauS) {
        assertTrue(WarmUp.of(times(0), creep(0.02, tauS, 0, 2)).isEmpty());
    }

    /** Seconds or hours, from now or from yesterday, in volts or millivolts: the same body. */
    @Test
    void unitsAndBeginningsAreFree() {
        double[] v = creep(0.02, 20, 0.001, 2);
        double[] t = times(86_400);
        double[] millivolts = new double[N];
        for (int i = 0; i < N; i++) {
            t[i] *= 60;
            millivolts[i] = 1000 * v[i];
        }

        WarmUp plain = of(v);
        WarmUp found = WarmUp.of(t, millivolts).orElseThrow();

        assertEquals(60 * plain.tauS(), found.tauS(), 60 * 20 * SEARCH);
        assertEquals(60 * plain.tauU(), found.tauU(), 60 * 20 * SEARCH);
        assertEquals(1000 * plain.residualSdV(), found.residualSdV(), 1e-6);
        assertEquals(0, plain.leftAtS(1), 0);
        assertEquals(plain.tauS() * Math.log(2), plain.leftAtS(0.5), 1e-9);
    }

    /**
     * One millivolt up and down in turn hides nothing of the exponential: scatter √(n / (n − 3)) mV. Of the linearized fit
     * (1, e, x e with x = t/τ) the third coefficient is step · Δτ / τ; its variance here by another library's inverse.
     */
    @Test
    void theUncertaintyIsThatOfTheLinearizedFit() {
        WarmUp found = of(creep(0.05, 20, 0.001, 2));

        double sd = 0.001 * Math.sqrt(N / (N - 3.0));
        assertEquals(sd, found.residualSdV(), 0.002 * sd);
        double[][] products = new double[3][3];
        for (int i = 0; i < N; i++) {
            double e = Math.exp(-i / 20.0);
            double[] row = {1, e, i / 20.0 * e};
            for (int a = 0; a < 3; a++) {
                for (int b = 0; b < 3; b++) {
                    products[a][b] += row[a] * row[b];
                }
            }
        }
        double variance = new LUDecomposition(MatrixUtils.createRealMatrix(products))
                .getSolver()
                .getInverse()
                .getEntry(2, 2);
        double expected = sd * Math.sqrt(variance) * 20 / 0.05;
        // the pattern shifts the found values by its own mean over the time constant, some 2 %
        assertEquals(expected, found.tauU(), 0.03 * expected);
    }

    /** A tone of six samples a period has the correlation cos 60° = 1/2 from one to the next: a third of the readings. */
    @Test
    void correlatedReadingsAreWorthLess() {
        double white = of(creep(0.05, 20, 0.001, 2)).tauU();
        double found = of(creep(0.05, 20, 0.001 * Math.sqrt(2), 6)).tauU();

        // the tone's own share in the exponential and one product missing of a hundred
        assertEquals(Math.sqrt(3), found / white, 0.04 * Math.sqrt(3));
    }

    /** A step within what its own uncertainty makes of nothing is no warming up: as of a tone of 2 mV. */
    @Test
    void aStepWithinTheNoiseIsNone() {
        assertTrue(WarmUp.of(times(0), creep(0.02, 20, 0.002, 2)).isPresent());
        assertTrue(WarmUp.of(times(0), creep(0.001, 20, 0.02, 2)).isEmpty());
        assertTrue(WarmUp.of(times(0), creep(0, 20, 0, 2)).isEmpty());
    }
}
