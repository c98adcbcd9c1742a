package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

class DriftTest {
    @Test
    void slopeAndChangeOfAPlainRamp() {
        double[] t = times(200, 10);
        double[] v = new double[t.length];
        for (int i = 0; i < t.length; i++) {
            v[i] = 12 - 1e-6 * t[i] + 1e-5 * (i % 2 == 0 ? 1 : -1);
        }

        Drift found = Drift.of(t, v);

        assertEquals(-1e-6, found.slopeVPerS(), 1e-9);
        assertEquals(-1990e-6, found.changeV(), 2e-6);
        assertTrue(found.significant());
    }

    /**
     * Noise whose neighbours hang together (lag-1 correlation 0.8) seems to drift when taken as independent. True
     * slope zero, 400 records: 4.6 % should be called drift; independent samples would call about half.
     */
    @Test
    void correlatedNoiseIsNotCalledDrift() {
        int called = 0;
        int naively = 0;
        for (long seed = 1; seed <= 400; seed++) {
            Random random = new Random(seed);
            double[] t = times(300, 1);
            double[] v = new double[t.length];
            double last = 0;
            for (int i = 0; i < v.length; i++) {
                last = 0.8 * last + random.nextGaussian();
                v[i] = last;
            }
            StraightLine plain = StraightLine.fit(t, v);
            called += Drift.of(t, v).significant() ? 1 : 0;
            naively += Math.abs(plain.slopeDimensionless()) > 2 * plain.slopeU() ? 1 : 0;
        }

        // the correlation is itself estimated, which costs a little; 10 % is far from the naive half
        assertTrue(called <= 40, called + " of 400 called drift");
        assertTrue(naively >= 120, naively + " of 400 naively");
    }

    @Test
    void constantDoesNotDrift() {
        assertFalse(Drift.of(times(10, 1), new double[10]).significant());
    }

    private static double[] times(int n, double stepS) {
        double[] t = new double[n];
        for (int i = 0; i < n; i++) {
            t[i] = i * stepS;
        }
        return t;
    }
}
