package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.base.Unit;
import railproof.signal.ReservoirStep.Step;

/**
 * A reservoir of 5 mF with 80 mΩ that goes from 0.5 A to 2 A at sample 400, 20 000 samples per second: 100 V/s before, 120 mV
 * down, 400 V/s after. Looked at are 2 ms on either side, half a millisecond after the step left out: samples 361 to 399
 * and 411 to 439.
 */
class ReservoirStepTest {
    private static final double RATE_HZ = 20_000;
    private static final Step STEP = new Step(0.02, 0.0005, 0.002, 0.5, 2);
    private static final double ROUNDING = 1e-9;

    private static double[] record(double beforeVPerS, double afterVPerS) {
        double[] v = new double[800];
        for (int i = 0; i < v.length; i++) {
            double t = (i - 400) / RATE_HZ;
            v[i] = i < 400 ? 20 + beforeVPerS * t : 20 - 0.12 + afterVPerS * t;
        }
        return v;
    }

    private static String refusal(double[] v, double rateHz, Step step) {
        return Refusal.of(() -> ReservoirStep.of(v, rateHz, step));
    }

    private static void assertFound(ReservoirStep found) {
        assertEquals(5e-3, found.capacitance().value(), 5e-3 * ROUNDING);
        assertEquals(0.08, found.seriesResistance().value(), ROUNDING);
    }

    @Test
    void straightDischargesTellCapacitanceAndResistanceExactly() {
        ReservoirStep found = ReservoirStep.of(record(-100, -400), RATE_HZ, STEP);

        assertFound(found);
        assertEquals(Unit.FARAD, found.capacitance().unit());
        assertEquals(Unit.OHM, found.seriesResistance().unit());
        // the shorter of the two stretches has 29 samples and two unknowns
        assertEquals(27, found.capacitance().randomDof(), 0);
        assertEquals(27, found.seriesResistance().randomDof(), 0);
    }

    @Test
    void nothingOutsideTheTwoStretchesIsLookedAt() {
        double[] v = record(-100, -400);
        for (int i = 0; i < v.length; i++) {
            v[i] = (i > 360 && i < 400) || (i > 410 && i < 440) ? v[i] : 0;
        }

        assertFound(ReservoirStep.of(v, RATE_HZ, STEP));
    }

    @ParameterizedTest(name = "sample {0}")
    @ValueSource(ints = {361, 399, 411, 439})
    void everySampleInsideTheStretchesCounts(int wild) {
        double[] v = record(-100, -400);
        v[wild] += 0.01;

        assertTrue(Math.abs(ReservoirStep.of(v, RATE_HZ, STEP).capacitance().value() - 5e-3) > 1e-6);
    }

    /**
     * One millivolt up and down in turn: n = 39 and 29, both odd, so that the slopes stay as they are, the lines move by
     * 1 mV / n, and the scatter is √((n − 1/n) / (n − 2)) mV. Of a line through n samples a spacing apart the slope has
     * that over the root of n (n² − 1) / 12 spacings, and its value d spacings off the middle √(1/n + 12 d² / n (n² − 1)).
     */
    @Test
    void theUncertaintyIsThatOfTheTwoLines() {
        double[] v = record(-100, -400);
        for (int i = 0; i < v.length; i++) {
            v[i] += i % 2 == 0 ? 1e-3 : -1e-3;
        }

        ReservoirStep found = ReservoirStep.of(v, RATE_HZ, STEP);

        double slopesU = Math.hypot(slopeU(39), slopeU(29));
        assertEquals(5e-3, found.capacitance().value(), 5e-3 * ROUNDING);
        assertEquals(5e-3 * slopesU / 300, found.capacitance().randomU(), 1e-9 * 5e-3);
        // both begin and end with a sample that is down
        double apartV = 0.12 - 1e-3 / 39 + 1e-3 / 29;
        assertEquals(apartV / 1.5, found.seriesResistance().value(), ROUNDING);
        double stepU = Math.hypot(valueU(39, 400 - 380), valueU(29, 425 - 400));
        assertEquals(stepU / 1.5, found.seriesResistance().randomU(), ROUNDING);
    }

    private static double scatterV(int n) {
        return 1e-3 * Math.sqrt((n - 1.0 / n) / (n - 2));
    }

    private static double slopeU(int n) {
        return scatterV(n) * RATE_HZ / Math.sqrt(n * (n * n - 1.0) / 12);
    }

    private static double valueU(int n, double off) {
        return scatterV(n) * Math.sqrt(1.0 / n + 12 * off * off / (n * (n * n - 1.0)));
    }

    /** Four times the current discharges four times as fast; half as fast again is something else. */
    @Test
    void aDischargeFarFasterThanTheCurrentsSayIsRefused() {
        assertEquals(
                1.5 / 499,
                ReservoirStep.of(record(-100, -599), RATE_HZ, STEP)
                        .capacitance()
                        .value(),
                1e-9);
        assertTrue(refusal(record(-100, -601), RATE_HZ, STEP)
                .startsWith("the reservoir does not discharge faster after the step: -100."));
        // from no load nothing can be said of the ratio
        Step fromNothing = new Step(0.02, 0, 0.002, 0, 2);
        assertEquals(
                2 / 9900.0,
                ReservoirStep.of(record(-100, -10_000), RATE_HZ, fromNothing)
                        .capacitance()
                        .value(),
                1e-9);
    }

    @ParameterizedTest(name = "{0} V/s before")
    @ValueSource(doubles = {100, 0, -400, -500})
    void aReservoirThatDoesNotFallFasterIsRefused(double beforeVPerS) {
        assertTrue(refusal(record(beforeVPerS, -400), RATE_HZ, STEP)
                .startsWith("the reservoir does not discharge faster after the step: "));
    }

    /**
     * A parabola of q per sample² on 39 samples: the thirds' means bend by 2 · 13² q = 338 q, which is 3 % of a fall of 38
     * samples at 5 mV for q = 16.86 uV.
     */
    @Test
    void adischargeThatBendsByMoreThanThreePercentIsRefused() {
        assertTrue(ReservoirStep.of(bent(16.8e-6), RATE_HZ, STEP).capacitance().value() > 0);
        assertTrue(ReservoirStep.of(bent(-16.8e-6), RATE_HZ, STEP).capacitance().value() > 0);
        for (double q : new double[] {16.9e-6, -16.9e-6}) {
            String refused = refusal(bent(q), RATE_HZ, STEP);
            assertTrue(refused.startsWith("the discharge is bent between 0.018"), refused);
            assertTrue(refused.endsWith(" and 0.02 s: the rectifier conducts near the step"), refused);
        }
    }

    private static double[] bent(double q) {
        double[] v = record(-100, -400);
        for (int i = 361; i < 400; i++) {
            v[i] += q * (i - 380) * (i - 380);
        }
        return v;
    }

    /** What noise bends by chance is no conduction: the same bend under noise of 20 mV up and down. */
    @Test
    void aBendWithinTheNoiseIsChance() {
        double[] v = bent(30e-6);
        for (int i = 361; i < 400; i++) {
            v[i] += i % 2 == 0 ? 20e-3 : -20e-3;
        }

        assertTrue(ReservoirStep.of(v, RATE_HZ, STEP).capacitance().value() > 0);
    }

    @Test
    void eightSamplesOnEitherSideAreEnough() {
        double[] v = record(-100, -400);
        assertFound(ReservoirStep.of(v, RATE_HZ, new Step(0.02, 0, 9 / RATE_HZ, 0.5, 2)));
        assertEquals(
                "the record holds no 8 samples between 0.0196 and 0.02 s",
                refusal(v, RATE_HZ, new Step(0.02, 0, 8 / RATE_HZ, 0.5, 2)));

        // the record from just before the first of them to just after the last
        double[] least = java.util.Arrays.copyOfRange(v, 392, 409);
        assertFound(ReservoirStep.of(least, RATE_HZ, new Step(8 / RATE_HZ, 0, 9 / RATE_HZ, 0.5, 2)));
        assertTrue(refusal(java.util.Arrays.copyOf(least, 16), RATE_HZ, new Step(8 / RATE_HZ, 0, 9 / RATE_HZ, 0.5, 2))
                .startsWith("the record holds no 8 samples between 4.0E-4 and "));
        assertTrue(refusal(least, RATE_HZ, new Step(7 / RATE_HZ, 0, 9 / RATE_HZ, 0.5, 2))
                .startsWith("the record holds no 8 samples between -"));
    }

    @Test
    void refusesWhatIsNoStep() {
        assertEquals("needs at least 16 samples, got 15", refusal(new double[15], RATE_HZ, STEP));
        assertEquals("sample rate must be finite and above zero, got 0.0", refusal(record(-100, -400), 0, STEP));
        assertEquals("stretch must be finite and above zero, got -1.0", refusal(0.5, -2, -1, 0.5, 2));
        assertEquals("current step must be finite and above zero, got 0.0", refusal(0.02, 0, 0.002, 2, 2));
        assertTrue(refusal(0.02, 0.002, 0.002, 0.5, 2).endsWith("got 0.002 s and 0.5 A"));
        assertTrue(refusal(0.02, -1e-6, 0.002, 0.5, 2).startsWith("the guard must be shorter than the stretch"));
        assertTrue(refusal(0.02, 0, 0.002, -0.5, 2).endsWith("got 0.0 s and -0.5 A"));
    }

    private static String refusal(double stepS, double guardS, double stretchS, double fromA, double toA) {
        return Refusal.of(() -> new Step(stepS, guardS, stretchS, fromA, toA));
    }
}
