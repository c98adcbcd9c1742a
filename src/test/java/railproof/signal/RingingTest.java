package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Triangles about 5 V after a step at sample 100: straight lines, so that their zeros are exact. 1000 samples per second. */
class RingingTest {
    private static final double RATE_HZ = 1000;
    private static final int STEP = 100;

    /** A triangle of so many samples a period, 1 V high, falling from its crest at the step, for so many samples. */
    private static double[] ringing(int n, double period, double samples, double calmV) {
        double[] v = new double[n];
        for (int i = 0; i < n; i++) {
            double place = (i - STEP) / period;
            double triangle = 4 * Math.abs(place - Math.floor(place) - 0.5) - 1;
            boolean rings = i >= STEP && i < STEP + samples;
            v[i] = 5 + (rings ? triangle : i % 2 == 0 ? calmV : -calmV);
        }
        return v;
    }

    private static OptionalDouble found(double[] v) {
        return Ringing.frequencyHz(v, RATE_HZ, STEP);
    }

    @ParameterizedTest(name = "{0} samples a period")
    @ValueSource(doubles = {20, 17.3, 23.7, 40.4})
    void theFrequencyIsThatOfTheCrossings(double period) {
        double[] v = ringing(500, period, 5 * period, 0);

        assertEquals(RATE_HZ / period, found(v).orElseThrow(), 1e-9);
        double[] turned = new double[v.length];
        for (int i = 0; i < v.length; i++) {
            turned[i] = 12 - 3 * v[i];
        }
        assertEquals(RATE_HZ / period, found(turned).orElseThrow(), 1e-9);
    }

    /** Four crossings are two full swings after the first: the fourth lies a quarter before the end of the second period. */
    @Test
    void fourCrossingsMakeAFrequency() {
        assertEquals(50, found(ringing(500, 20, 38, 0)).orElseThrow(), 1e-9);
        assertTrue(found(ringing(500, 20, 34, 0)).isEmpty());
    }

    /** Swings of 1 V count against a settled output that moves by 0.66 V either way, not by 0.67 V. */
    @Test
    void swingsMustBeOneAndAHalfTimesWhatTheSettledOutputDoes() {
        assertEquals(50, found(ringing(600, 20, 200, 0.6)).orElseThrow(), 1);
        assertTrue(found(ringing(600, 20, 200, 0.67)).isEmpty());
    }

    /** Settled is the last fifth after the step: 80 of 400 samples; it may ring up to there. */
    @Test
    void theLastFifthIsTakenAsSettled() {
        assertEquals(50, found(ringing(500, 20, 320, 0)).orElseThrow(), 1e-9);
        assertTrue(found(ringing(500, 20, 340, 0)).isEmpty());
        // four samples at least
        assertEquals(
                250, Ringing.frequencyHz(ringing(120, 4, 16, 0), RATE_HZ, STEP).orElseThrow(), 1e-9);
    }

    @Test
    void refusesTooShortARecord() {
        assertEquals("needs at least 120 samples, got 119", Refusal.of(() -> found(new double[119])));
        assertTrue(found(new double[120]).isEmpty());
        assertEquals(
                "sample rate must be finite and above zero, got 0.0",
                Refusal.of(() -> Ringing.frequencyHz(new double[200], 0, STEP)));
    }
}
