package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Steps at sample 100 of 300, 1000 samples per second; excursions are parabolas, whose tops are exact. */
class TransientLimitsTest {
    private static final double RATE_HZ = 1000;
    private static final int STEP = 100;
    /** Noise of a record whose second differences are all 1 or −1, as the estimate has it. */
    private static final double NOISE_OF_PAIRS = 1 / (0.5586 * Math.sqrt(6));

    private static double[] record(double beforeV, IntToDoubleFunction after) {
        double[] v = new double[300];
        for (int i = 0; i < v.length; i++) {
            v[i] = i < STEP ? beforeV : after.applyAsDouble(i - STEP);
        }
        return v;
    }

    /** A parabola of so many samples, so high. */
    private static double bump(int k, int from, int width, double high) {
        double x = (k - from) / (0.5 * width) - 1;
        return Math.abs(x) >= 1 ? 0 : high * (1 - x * x);
    }

    private static Transient of(double[] v, double bandV) {
        return Transient.of(v, RATE_HZ, STEP, bandV);
    }

    /** From nothing to 5 V and over: the way there is no dip. And the same upside down. */
    @ParameterizedTest(name = "from {0} V to {1} V")
    @CsvSource({"0, 5", "2, 5", "5, 2", "5, 0", "-3, 3", "3, -3"})
    void theWayToTheNewLevelIsNoExcursion(double fromV, double toV) {
        double sign = Math.signum(toV - fromV);
        double[] v = record(
                fromV,
                k -> k < 20
                        ? fromV + (toV - fromV) * k / 20
                        : toV + sign * bump(k, 20, 41, 0.5) - sign * bump(k, 80, 41, 0.25));

        Transient found = of(v, 0.1);

        assertEquals(fromV, found.beforeV(), 1e-12);
        assertEquals(toV, found.finalV(), 1e-12);
        assertEquals(0.5, sign > 0 ? found.overshootV() : found.dipV(), 1e-9);
        assertEquals(0.25, sign > 0 ? found.dipV() : found.overshootV(), 1e-9);
        assertEquals(0.5 / Math.abs(toV - fromV), found.overshootRatio(), 1e-9);
    }

    @Test
    void whereTheLevelStaysBothSidesCountFromTheStep() {
        for (double sign : new double[] {1, -1}) {
            Transient found = of(record(5, k -> 5 + sign * bump(k, 0, 41, 0.5) - sign * bump(k, 41, 41, 0.25)), 0.1);

            assertEquals(0.5, sign > 0 ? found.overshootV() : found.dipV(), 1e-9);
            assertEquals(0.25, sign > 0 ? found.dipV() : found.overshootV(), 1e-9);
        }
    }

    /** Without output resistance the final level is above or below the one before by chance: the dip is there anyway. */
    @ParameterizedTest(name = "{0} V after 5 V")
    @CsvSource({"4.9995", "5", "5.0005", "5.1", "5.15"})
    void aLevelThatComesBackAHairHigherHidesNoDip(double finalV) {
        Transient found = of(record(5, k -> finalV - bump(k, 0, 41, 0.5)), 0.1);

        assertEquals(0.5, found.dipV(), 1e-9);
        Transient turned = of(record(-5, k -> -finalV + bump(k, 0, 41, 0.5)), 0.1);
        assertEquals(0.5, turned.overshootV(), 1e-9);
    }

    /** Down to the band's own edge is inside: a plateau of 0.25 V, on a band of that. */
    @Test
    void theBandsEdgeIsInside() {
        double[] v = record(5, k -> k >= 10 && k < 30 ? 5.25 : 5);

        assertEquals(0, of(v, 0.25).recoveryS().orElseThrow(), 0);
        assertEquals(0, of(v, 0.25).slopeVPerS(), 0);
        // half-way from 0.25 V to 0 V between samples 29 and 30
        assertEquals(0.0295, of(v, 0.125).recoveryS().orElseThrow(), 1e-12);
    }

    /** Outside in the first sample only: back within the one interval after it. */
    @Test
    void anOutputThatIsOutsideAtTheStepAloneIsBackASampleLater() {
        double[] v = record(5, k -> k == 0 ? 6 : 5);

        assertEquals(0.0005, of(v, 0.5).recoveryS().orElseThrow(), 1e-12);
        assertTrue(of(v, 0.5).slopeVPerS() > 0);
    }

    /** The dip is as uncertain as the noise of the last fifth after the step, forty samples of it. */
    @Test
    void theNoiseOfTheLastFifthIsTheExcursions() {
        double[] v = record(5, k -> k == 0 ? 1 : k < 160 ? 5 : 5 + 1e-3 * (k / 2 % 2));
        assertEquals(1e-3 * NOISE_OF_PAIRS, of(v, 0.1).dipU(), 1e-12);

        double[] few = java.util.Arrays.copyOf(record(5, k -> k == 0 ? 1 : k < 4 ? 5 : 5 + 1e-3 * (k / 2 % 2)), 112);
        assertEquals(1e-3 * NOISE_OF_PAIRS, of(few, 0.1).dipU(), 1e-12, "the last eight samples at least");
    }

    @Test
    void refusesWhatIsNoStep() {
        double[] flat = record(5, k -> 5);
        assertEquals(
                "sample rate must be finite and above zero, got 0.0", Refusal.of(() -> Transient.of(flat, 0, STEP, 1)));
        assertEquals("band must be finite and above zero, got 0.0", Refusal.of(() -> of(flat, 0)));
        assertEquals("needs at least 301 samples, got 300", Refusal.of(() -> Transient.of(flat, 1000, 291, 1)));
        assertEquals("the record needs samples before the step", Refusal.of(() -> Transient.of(flat, 1000, 0, 1)));
        assertEquals(5, Transient.of(flat, 1000, 1, 1).beforeV(), 0);
        assertEquals(5, Transient.of(flat, 1000, 290, 1).beforeV(), 0);
        assertEquals("magnitude of the step must be finite and above zero, got 0.0", Refusal.of(() -> of(flat, 1)
                .overshootRatio()));
    }
}
