package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.OptionalInt;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Steps on a triangle of 1 V a sample, 0 to 50 V and back in 100 samples: without noise, so that what counts as an
 * answer is exactly 2 % of the 50 V more than the most seen two samples either side a cycle before, 2 V + 1 V on a slope.
 */
class StepOnsetTest {
    private static final int CYCLE = 100;
    private static final int QUIET = 300;
    /** Noise of a record whose second differences are all 1 V or −1 V, as the class estimates it. */
    private static final double NOISE_OF_PAIRS_V = 1 / (0.5586 * Math.sqrt(6));

    private static double[] triangle(int n) {
        double[] v = new double[n];
        for (int i = 0; i < n; i++) {
            v[i] = 50 - Math.abs(i % CYCLE - 50);
        }
        return v;
    }

    private static double[] stepped(int n, int at, double stepV) {
        double[] v = triangle(n);
        for (int i = at; i < n; i++) {
            v[i] += stepV;
        }
        return v;
    }

    private static OptionalInt index(double[] v, int quiet) {
        OptionalInt found = StepOnset.index(v, quiet, CYCLE);
        double[] turned = v.clone();
        for (int i = 0; i < v.length; i++) {
            turned[i] = 1 - v[i];
        }
        assertEquals(found, StepOnset.index(turned, quiet, CYCLE), "an answer upside down is the same answer");
        return found;
    }

    @ParameterizedTest(name = "step at sample {0}")
    @ValueSource(ints = {300, 301, 310, 340, 360, 390, 397})
    void aStepWithinTheRippleIsSeenAgainstTheCycleBefore(int at) {
        assertEquals(at, index(stepped(600, at, 3.01), QUIET).orElseThrow());
        assertEquals(at, index(stepped(600, at, -3.01), QUIET).orElseThrow());
    }

    @Test
    void whatThatLineMayDoAnywayIsNoAnswer() {
        assertTrue(index(triangle(600), QUIET).isEmpty());
        // 10 V on the rising slope, with up to 12 V and down to 8 V two samples aside
        assertTrue(index(spike(600, 310, 13), QUIET).isEmpty());
        assertTrue(index(spike(600, 310, 7), QUIET).isEmpty());
    }

    /** Two samples of error over one cycle are 2 % of it, far more than a line's frequency is ever off. */
    @ParameterizedTest(name = "{0} samples said to be in a cycle of 100")
    @ValueSource(doubles = {98, 98.6, 101.4, 102})
    void theLinesFrequencyNeedNotBeKnownExactly(double cycleSamples) {
        assertTrue(StepOnset.index(triangle(600), QUIET, cycleSamples).isEmpty());
    }

    /** From one cycle after the change on the cycle before has the answer in it. */
    @Test
    void onlyTheFirstCycleIsComparedWithTheOneBefore() {
        assertTrue(index(stepped(600, QUIET + CYCLE - 2, 3.01), QUIET).isEmpty());
        assertEquals(
                QUIET + 20, index(stepped(QUIET + 25, QUIET + 20, 3.01), QUIET).orElseThrow());
        // by far beyond everything before it is seen at any time: by half of the 50 V
        assertEquals(570, StepOnset.index(spike(600, 570, 75.5), QUIET, CYCLE).orElseThrow());
        assertTrue(StepOnset.index(spike(600, 570, 75), QUIET, CYCLE).isEmpty());
    }

    private static double[] spike(int n, int at, double toV) {
        double[] v = triangle(n);
        v[at] = toV;
        return v;
    }

    /** The cycle before and two samples either side have to be quiet; with less the whole quiet stretch is compared. */
    @Test
    void aShortQuietStretchIsComparedAsAWhole() {
        double[] v = stepped(400, 110, 3.01);

        assertEquals(110, StepOnset.index(v, 104, CYCLE).orElseThrow());
        assertTrue(StepOnset.index(v, 103, CYCLE).isEmpty());
        // a cycle of less than three samples is none
        assertTrue(StepOnset.index(v, 104, 2.4).isEmpty());
    }

    @Test
    void inNoiseAnAnswerIsFourTimesTheNoiseBeyond() {
        Random random = new Random(8);
        double[] v = triangle(600);
        for (int i = 0; i < v.length; i++) {
            v[i] = 0.01 * v[i] + random.nextGaussian();
        }
        double noiseV = Samples.noiseSd(v, 0, QUIET);
        double before = Double.NEGATIVE_INFINITY;
        for (int i = 308; i <= 312; i++) {
            before = Math.max(before, v[i - CYCLE]);
        }

        v[310] = before + 4.01 * noiseV;
        assertEquals(310, StepOnset.index(v, QUIET, CYCLE).orElseThrow());
        v[310] = before + 3.99 * noiseV;
        assertTrue(StepOnset.index(v, QUIET, CYCLE).orElse(600) != 310);
    }

    /** Quiet between 0 and 2: an answer is more than half of that beyond. */
    @ParameterizedTest(name = "sample of {0} V")
    @CsvSource({"3, false", "3.1, true", "-1, false", "-1.1, true"})
    void withoutALineHalfOfWhatWasThereBeforeIsTheMargin(double sampleV, boolean answers) {
        double[] v = {0, 2, 0, 2, sampleV, 0};

        assertEquals(answers ? OptionalInt.of(4) : OptionalInt.empty(), StepOnset.index(v, 4));
    }

    /** Pairs of equal samples, 0 0 1 1: every second difference is 1 or −1. */
    @ParameterizedTest(name = "steps of {0} and {1} V")
    @CsvSource({"10, 3, 10", "3, 10, 10", "-10, 3, 10", "3, -10, 10", "3, 3, 3"})
    void theAnswersPaceIsTheFasterOfItsFirstTwoSteps(double toV, double onV, double paceV) {
        double[] v = new double[60];
        for (int i = 0; i < v.length; i++) {
            v[i] = i / 2 % 2;
        }
        v[49] = 100;
        v[50] = 100 + toV;
        v[51] = 100 + toV + onV;

        assertEquals(1 + 4 * NOISE_OF_PAIRS_V / paceV, StepOnset.hiddenSamples(v, 40, 50), 1e-12);
    }

    @Test
    void withoutNoiseOneSampleIsHiddenWhateverThePace() {
        double[] v = {0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0};

        assertEquals(1, StepOnset.hiddenSamples(v, 9, 9), 0);
    }

    @Test
    void refusesARecordWithoutAnAnswerOrAQuietStretch() {
        assertEquals("needs at least 11 samples, got 10", Refusal.of(() -> StepOnset.index(new double[10], 10)));
        assertEquals(
                "needs at least 301 samples, got 250", Refusal.of(() -> StepOnset.index(triangle(250), QUIET, CYCLE)));
        assertEquals(
                "needs at least 12 samples, got 11", Refusal.of(() -> StepOnset.hiddenSamples(new double[11], 9, 10)));
        assertEquals(
                "the onset needs quiet samples before it, got 1", Refusal.of(() -> StepOnset.index(new double[10], 1)));
        assertTrue(StepOnset.index(new double[10], 2).isEmpty());
        assertTrue(StepOnset.index(new double[10], 9).isEmpty());
        assertTrue(StepOnset.index(triangle(301), QUIET, CYCLE).isEmpty());
    }
}
