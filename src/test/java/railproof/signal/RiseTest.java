package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Rises of a rail of 5 V with a band of 4.75 to 5.25 V, at 1000 samples per second; the line comes at sample 100. */
class RiseTest {
    private static final double RATE_HZ = 1000;
    private static final int ON = 100;
    private static final double SPACING_S = 1e-3 / Math.sqrt(12);
    /** Noise of a record whose second differences are all 1 or −1, as the estimate has it. */
    private static final double NOISE_OF_PAIRS = 1 / (0.5586 * Math.sqrt(6));

    private static double[] flat(double levelV) {
        double[] v = new double[200];
        Arrays.fill(v, levelV);
        return v;
    }

    private static Rise of(double[] v) {
        return Rise.of(v, RATE_HZ, ON, 4.75, 5.25, 0.01);
    }

    @ParameterizedTest(name = "{0} V")
    @ValueSource(doubles = {4.75, 5, 5.25})
    void anOutputThatStandsInItsBandTakesNoTime(double levelV) {
        Rise found = of(flat(levelV));

        assertEquals(levelV, found.finalV(), 1e-12);
        assertEquals(0, found.timeS().orElseThrow(), 0);
        assertEquals(SPACING_S, found.standardUS(), 1e-12);
        assertEquals(0, found.overshootV(), 1e-12);
        assertEquals(0, found.fallBackV(), 0);
    }

    @ParameterizedTest(name = "{0} V")
    @ValueSource(doubles = {4.74, 5.26})
    void anOutputJustOutsideItsBandTakesForEver(double levelV) {
        assertTrue(of(flat(levelV)).timeS().isEmpty());
        assertEquals(0, of(flat(levelV)).standardUS(), 0);
    }

    /** From 0 V at sample 100 by 0.1 V a sample: 4.75 V after 47.5 ms, 10 mV of error cost 0.1 ms. */
    @Test
    void aStraightRiseTakesItsTimeToTheLowerEnd() {
        double[] v = flat(5);
        for (int i = 0; i < 150; i++) {
            v[i] = Math.max(0, 0.1 * (i - ON));
        }

        Rise found = of(v);

        assertEquals(0.0475, found.timeS().orElseThrow(), 1e-12);
        // the slope over eleven samples about it has 8 of the rise in it: 0.08 V a sample, see the crossing
        double slopeVPerS = (5 - 4.2) / 11 * RATE_HZ;
        assertEquals(Math.hypot(SPACING_S, 0.01 / slopeVPerS), found.standardUS(), 1e-9);
    }

    @Test
    void anOvershootIsInItsBandWhenItComesBackThroughTheUpperEnd() {
        double[] v = flat(5);
        for (int i = 0; i < 150; i++) {
            v[i] = i < ON ? 0 : i < 120 ? 6 : 6 - (i - 120) / 30.0;
        }

        // 5.25 V are 0.75 V below 6 V: 22.5 samples after the 120th
        assertEquals(0.0425, of(v).timeS().orElseThrow(), 1e-12);
        assertEquals(1, of(v).overshootV(), 1e-9);
    }

    /** A fall back counts up to the first time in the band only: later ones are what a regulator does. */
    @Test
    void onlyTheWayUpCanFallBack() {
        double[] v = flat(5);
        for (int i = 0; i < 150; i++) {
            v[i] = i < ON ? 0 : i < 110 ? 3 : i < 120 ? 2.25 : i < 130 ? 5 : 4;
        }

        assertEquals(0.75, of(v).fallBackV(), 1e-12);
        assertEquals(0.05, of(v).timeS().orElseThrow(), 1e-3);
    }

    /**
     * The overshoot is as uncertain as the noise in the last fifth after line on is large: here 1 mV of it in the last 20
     * samples, at a top of one sample that nothing else comes near.
     */
    @Test
    void theNoiseOfTheLastFifthIsTheOvershoots() {
        assertEquals(1e-3 * NOISE_OF_PAIRS, of(noisyEnd(200, 180)).overshootU(), 1e-12);
        // the last eight samples at least
        assertEquals(1e-3 * NOISE_OF_PAIRS, of(noisyEnd(112, 104)).overshootU(), 1e-12);
    }

    private static double[] noisyEnd(int n, int from) {
        double[] v = new double[n];
        for (int i = 0; i < n; i++) {
            v[i] = i < ON ? 0 : i == ON ? 9 : i < from ? 5 : 5 + 1e-3 * (i / 2 % 2);
        }
        return v;
    }

    /** With ripple on it the final value is that of whole line cycles: 5 V, not what the last fifth has of the ripple. */
    @Test
    void theFinalValueIsFreeOfRippleWhereTheLineIsKnown() {
        double[] v = new double[200];
        for (int i = 0; i < v.length; i++) {
            v[i] = 5 + 0.2 * Math.sin(2 * Math.PI * (i + 0.5) / 40);
        }

        assertEquals(
                5,
                Rise.of(v, new Rise.Timing(RATE_HZ, 40), ON, 4.75, 5.25, 0.01).finalV(),
                1e-12);
        assertTrue(Math.abs(of(v).finalV() - 5) > 0.05);
    }

    @Test
    void refusesWhatIsNoRecordOfARise() {
        assertEquals("sample rate must be finite and above zero, got 0.0", refusal(0, 100, 4, 5));
        assertEquals("width of the band must be finite and above zero, got 0.0", refusal(1000, 100, 5, 5));
        assertEquals("needs at least 201 samples, got 200", refusal(1000, 191, 4, 5));
        assertEquals(0, Rise.of(flat(4.5), 1000, 190, 4, 5, 0.01).timeS().orElseThrow(), 0);
    }

    private static String refusal(double rateHz, int onIndex, double lowV, double highV) {
        return Refusal.of(() -> Rise.of(flat(5), rateHz, onIndex, lowV, highV, 0.01));
    }
}
