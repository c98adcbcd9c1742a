package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.Random;
import org.junit.jupiter.api.Test;

class SettlingTest {
    @Test
    void decides() {
        assertEquals(Settling.TOO_FEW, Settling.of(new double[] {5, 5}, 0.001));
        assertEquals(Settling.SETTLED, Settling.of(new double[] {4.9, 5, 5.0004, 5.0001}, 0.001));
        assertEquals(Settling.MOVING, Settling.of(new double[] {5, 5, 5, 5.01}, 0.001));
        assertEquals(Settling.DRIFTING, Settling.of(new double[] {5, 5.0003, 5.0006, 5.0009, 5.0012, 5.0015}, 0.001));
        assertEquals(
                Settling.SETTLED, Settling.of(new double[] {5.002, 5.0003, 5.0006, 5.0004, 5.0007, 5.0005}, 0.001));
    }

    /** An exponential settles, and only when what is left to go is of the order of the band: tau 5 readings. */
    @Test
    void exponentialSettlesLateNotEarly() {
        double[] y = new double[80];
        int settledAt = -1;
        for (int i = 0; i < y.length && settledAt < 0; i++) {
            y[i] = 12 - Math.exp(-i / 5.0);
            if (Settling.of(java.util.Arrays.copyOf(y, i + 1), 0.001) == Settling.SETTLED) {
                settledAt = i;
            }
        }
        // six readings of a march span exp(-n / 5) (e - 1), below 1 mV from n = 5 ln 1718 = 37.2 on: 0.5 mV are left
        assertEquals(38, settledAt);
    }

    /** Shift, scale (band with it) and sign do not change the decision. Seeds printed. */
    @Test
    void decisionIsFreeOfOffsetAndScale() {
        for (long seed = 1; seed <= 300; seed++) {
            Random random = new Random(seed);
            double[] y = new double[8];
            double[] changed = new double[8];
            for (int i = 0; i < y.length; i++) {
                y[i] = 0.0003 * i * random.nextInt(2) + 0.0006 * random.nextDouble();
                changed[i] = 12 - 8 * y[i];
            }
            assertEquals(Settling.of(y, 0.001), Settling.of(changed, 0.008), "seed " + seed);
        }
    }

    @Test
    void refusesABandOfNothing() {
        assertThrows(IllegalArgumentException.class, () -> Settling.of(new double[] {1, 1, 1}, 0));
    }
}
