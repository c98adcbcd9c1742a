package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

class WarmUpTest {
    private static final double TAU_S = 240;

    private static double[] times() {
        double[] t = new double[361];
        for (int i = 0; i < t.length; i++) {
            t[i] = 1000 + 5 * i;
        }
        return t;
    }

    private static double[] creep(double[] t, double stepV, double noiseV, long seed) {
        Random random = new Random(seed);
        double[] v = new double[t.length];
        for (int i = 0; i < t.length; i++) {
            v[i] = 12 + stepV * Math.exp(-(t[i] - t[0]) / TAU_S) + noiseV * random.nextGaussian();
        }
        return v;
    }

    /** The closed form itself: what is found must be what went in. */
    @Test
    void findsTheExponentialItIsGiven() {
        WarmUp found = WarmUp.of(times(), creep(times(), -0.05, 0, 1)).orElseThrow();

        // the search ends when the sum of squares no longer changes: the square root of a double's rounding
        assertEquals(TAU_S, found.tauS(), 1e-5 * TAU_S);
        assertEquals(12, found.endV(), 1e-7);
        assertEquals(-0.05, found.stepV(), 1e-7);
        // a body has come to 1/e after one time constant, to 1 % after ln 100 = 4.605 of them
        assertEquals(TAU_S, found.leftAtS(Math.exp(-1)), 1e-2);
        assertEquals(4.605170 * TAU_S, found.leftAtS(0.01), 1e-2);
    }

    @Test
    void theStatedUncertaintyIsTheScatterOfManyRecords() {
        int records = 200;
        double squares = 0;
        double stated = 0;
        for (long seed = 1; seed <= records; seed++) {
            WarmUp found = WarmUp.of(times(), creep(times(), 0.05, 0.002, seed)).orElseThrow();
            squares += (found.tauS() - TAU_S) * (found.tauS() - TAU_S) / records;
            stated += found.tauU() / records;
        }

        // the spread of 200 records is itself known to 1 / sqrt(400) = 5 %; three times that, and the correlation found
        // in white noise by chance widens a little
        assertEquals(1, stated / Math.sqrt(squares), 0.2);
    }

    @Test
    void noiseAndEndlessRampsHaveNoTimeConstant() {
        assertTrue(WarmUp.of(times(), new double[361]).isEmpty());
        double[] ramp = times();
        assertTrue(WarmUp.of(times(), ramp).isEmpty());
        int found = 0;
        for (long seed = 1; seed <= 100; seed++) {
            found += WarmUp.of(times(), creep(times(), 0, 0.002, seed)).isPresent() ? 1 : 0;
        }
        // a nominal twentieth; the free time constant finds the likeliest of many shapes, which multiplies it
        assertTrue(found <= 30, found + " of 100");
    }

    @Test
    void refusesWhatIsNoRecord() {
        assertThrows(IllegalArgumentException.class, () -> WarmUp.of(new double[7], new double[7]));
        assertThrows(IllegalArgumentException.class, () -> WarmUp.of(times(), new double[8]));
        assertThrows(IllegalArgumentException.class, () -> WarmUp.of(new double[9], new double[9]));
        WarmUp some = new WarmUp(12, 0.1, 100, 1, 0);
        assertThrows(IllegalArgumentException.class, () -> some.leftAtS(0));
        assertThrows(IllegalArgumentException.class, () -> some.leftAtS(1.1));
    }
}
