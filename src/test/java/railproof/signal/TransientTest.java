package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class TransientTest {
    /** Exponential return from a dip: back in the band after tau ln(dip / band). */
    @Test
    void exponentialRecovery() {
        double rateHz = 1e6;
        double[] y = new double[2000];
        for (int i = 0; i < y.length; i++) {
            y[i] = i < 100 ? 12.16 : 12.144 - 0.1 * Math.exp(-(i - 100) / 50.0);
        }

        Transient found = Transient.of(y, rateHz, 100, 0.02);

        assertEquals(12.16, found.beforeV(), 1e-12);
        assertEquals(12.144, found.finalV(), 1e-9);
        assertEquals(0.1, found.dipV(), 1e-9);
        assertEquals(0, found.overshootV(), 1e-9);
        // within a sample of 1 us by straight line between samples: far less than that
        assertEquals(50e-6 * Math.log(5), found.recoveryS().orElseThrow(), 0.02e-6);
    }

    /** A ring that leaves the band again is not recovered at its first pass. */
    @Test
    void countsTheLastEntryNotTheFirst() {
        double[] y = new double[3000];
        for (int i = 0; i < y.length; i++) {
            int k = i - 100;
            y[i] = k < 0 ? 0 : 5 - 5 * Math.exp(-k / 200.0) * Math.cos(2 * Math.PI * k / 100.0);
        }

        Transient found = Transient.of(y, 1e6, 100, 0.25);

        double envelope = 200e-6 * Math.log(5 / 0.25);
        assertTrue(found.recoveryS().orElseThrow() > envelope - 50e-6, found.toString());
        assertTrue(found.recoveryS().orElseThrow() <= envelope, found.toString());
        // first overshoot close to half a period after the step
        assertEquals(Math.exp(-0.25), found.overshootRatio(), 0.01);
    }

    @Test
    void neverSettledIsEmpty() {
        double[] y = new double[500];
        for (int i = 0; i < y.length; i++) {
            y[i] = i % 2 == 0 ? 5 : 5.1;
        }
        assertTrue(Transient.of(y, 1e6, 50, 0.02).recoveryS().isEmpty());
        assertEquals(0, Transient.of(y, 1e6, 50, 0.2).recoveryS().orElseThrow(), 0);
    }

    @Test
    void refusesRecordsWithoutABeforeOrAfter() {
        assertThrows(IllegalArgumentException.class, () -> Transient.of(new double[100], 1e6, 0, 0.1));
        assertThrows(IllegalArgumentException.class, () -> Transient.of(new double[100], 1e6, 95, 0.1));
        assertThrows(IllegalArgumentException.class, () -> Transient.of(new double[100], 1e6, 10, 0));
    }

    /** 30 mV of output resistance and a dip of 100 mV on top: what was there before is no overshoot. */
    @Test
    void theLevelBeforeTheStepIsNoExcursion() {
        double[] y = new double[4000];
        for (int i = 0; i < y.length; i++) {
            y[i] = i < 1000
                    ? 12.03
                    : 12
                            - 0.1 * (i - 1000) / 100.0 * Math.exp(1 - (i - 1000) / 100.0)
                            + 0.03 * Math.exp(-(i - 1000) / 5.0);
        }

        Transient down = Transient.of(y, 1e6, 1000, 0.02);

        assertEquals(0, down.overshootV(), 1e-6);
        assertEquals(0.1, down.dipV(), 1e-3);
    }
}
