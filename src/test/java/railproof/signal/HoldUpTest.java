package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** An output that holds 12 V and falls by 0.5 V a sample from sample 40 on; the line goes at sample 10; 1000 samples per second. */
class HoldUpTest {
    private static final double RATE_HZ = 1000;

    private static double[] falling(int n) {
        double[] v = new double[n];
        for (int i = 0; i < n; i++) {
            v[i] = Math.min(12, 12 - 0.5 * (i - 40));
        }
        return v;
    }

    @Test
    void theOutputIsDownBelowTheLevelNotOnIt() {
        // 11.5 V is sample 41 itself: thirty-one after the line went
        assertEquals(
                0.031, HoldUp.of(falling(60), RATE_HZ, 10, 11.5, 0.01).timeS().orElseThrow(), 1e-12);
        assertTrue(HoldUp.of(falling(42), RATE_HZ, 10, 11.5, 0.01).timeS().isEmpty());
        assertEquals(
                0.0305, HoldUp.of(falling(60), RATE_HZ, 10, 11.75, 0.01).timeS().orElseThrow(), 1e-12);
    }

    @Test
    void whatIsSeenAfterLineOffIsSaidWithOrWithoutATime() {
        assertEquals(0.05, HoldUp.of(falling(60), RATE_HZ, 10, 11.75, 0.01).recordedS(), 1e-12);
        assertEquals(0.02, HoldUp.of(falling(30), RATE_HZ, 10, 11.75, 0.01).recordedS(), 1e-12);
        assertEquals(0, HoldUp.of(falling(30), RATE_HZ, 10, 11.75, 0.01).standardUS(), 0);
    }

    /** 10 mV at 500 V/s are 20 us, beside the spacing's 1 ms / √12. */
    @Test
    void theTimeIsAsUncertainAsTheLevelOverTheSlope() {
        assertEquals(
                Math.hypot(20e-6, 1e-3 / Math.sqrt(12)),
                HoldUp.of(falling(80), RATE_HZ, 10, 6.25, 0.01).standardUS(),
                1e-12);
    }

    @Test
    void anOutputThatIsDownAlreadyHoldsForNoTime() {
        assertEquals(0, HoldUp.of(falling(60), RATE_HZ, 50, 11.5, 0.01).timeS().orElseThrow(), 0);
        assertEquals(
                0, HoldUp.of(new double[40], RATE_HZ, 0, 11.5, 0.01).timeS().orElseThrow(), 0);
    }

    @Test
    void refusesARecordThatEndsWithTheLine() {
        assertEquals(
                "needs at least 31 samples, got 30", Refusal.of(() -> HoldUp.of(falling(30), RATE_HZ, 29, 11.5, 0.01)));
        assertEquals(0.002, HoldUp.of(falling(30), RATE_HZ, 28, 11.5, 0.01).recordedS(), 1e-12);
        assertEquals(
                "sample rate must be finite and above zero, got NaN",
                Refusal.of(() -> HoldUp.of(falling(30), Double.NaN, 10, 11.5, 0.01)));
    }
}
