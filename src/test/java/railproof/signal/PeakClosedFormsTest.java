package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.util.Arrays;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Tops whose height and uncertainty follow from a formula; samples without noise, so that rounding is all there is. */
class PeakClosedFormsTest {
    private static final double ROUNDING = 1e-9;

    private static double[] record(int n, DoubleUnaryOperator wave) {
        double[] v = new double[n];
        for (int i = 0; i < n; i++) {
            v[i] = wave.applyAsDouble(i);
        }
        return v;
    }

    private static double[] turned(double[] v) {
        double[] turned = new double[v.length];
        for (int i = 0; i < v.length; i++) {
            turned[i] = v[v.length - 1 - i];
        }
        return turned;
    }

    private static void assertPeak(double valueV, double standardUV, Peak found, double tolerance) {
        assertEquals(valueV, found.valueV(), tolerance);
        assertEquals(standardUV, found.standardUV(), tolerance);
    }

    /** What is found does not depend on which way time runs. */
    private static void assertPeakBothWays(double valueV, double standardUV, double[] v, double noiseV) {
        assertPeak(valueV, standardUV, Peak.of(v, 0, v.length, noiseV), ROUNDING);
        assertPeak(valueV, standardUV, Peak.of(turned(v), 0, v.length, noiseV), ROUNDING);
    }

    /**
     * Variance of a parabola through n samples of noise 1, so far from their middle: by the discrete orthogonal
     * polynomials 1, x and x² − (n² − 1)/12, whose squares sum to n, n(n² − 1)/12 and n(n² − 1)(n² − 4)/180.
     */
    private static double parabolaVariance(int n, double fromMiddle) {
        double square = (double) n * n;
        double bend = fromMiddle * fromMiddle - (square - 1) / 12;
        return 1.0 / n
                + 12 * fromMiddle * fromMiddle / (n * (square - 1))
                + 180 * bend * bend / (n * (square - 1) * (square - 4));
    }

    /** 5 − 0.01 (i − 50.3)² stays within six times 0.1 of its highest sample from 43 to 58: sixteen samples. */
    @Test
    void aFlatTopIsReadOffTheParabolaThroughItsSamples() {
        double[] v = record(100, i -> 5 - 0.01 * (i - 50.3) * (i - 50.3));

        assertPeakBothWays(5, 0.1 * Math.sqrt(parabolaVariance(16, 50.3 - 50.5)), v, 0.1);
    }

    @Test
    void theHeightScalesAndShiftsWithItsSamples() {
        Random random = new Random(17);
        double[] v = record(200, i -> 3 * Math.sin(i / 40.0) + 0.05 * random.nextGaussian());
        Peak plain = Peak.of(v, 0, v.length, 0.05);

        Peak changed = Peak.of(Arrays.stream(v).map(x -> 7 - 100 + 20 * x).toArray(), 0, v.length, 1);

        assertPeak(-93 + 20 * plain.valueV(), 20 * plain.standardUV(), changed, 1e-9);
    }

    /** A fall of 1 mV a sample from the record's first one: the top is an end of the line, and known as such. */
    @Test
    void aTopAtTheEndOfTheRecordIsNotDrawnBeyondIt() {
        double[] v = record(30, i -> 5 - 0.001 * i);

        assertPeakBothWays(5, 0.1 * Math.sqrt(parabolaVariance(30, 14.5)), v, 0.1);
    }

    /**
     * A jump to 5 V and a straight fall by 10 mV a sample, within six times a noise of 20.5 mV for thirteen samples:
     * the jump was up to one sample before, which half a sample's fall and a rectangle of that half-width stand for.
     */
    @Test
    void aFlatTopThatBeginsWithAJumpIsDrawnHalfASampleOn() {
        double[] v = record(80, i -> i < 20 ? 0 : 5 - 0.01 * (i - 20));

        // thirteen samples fall by 0.12 V, six times the noise are 0.123 V
        double u = Math.hypot(0.0205 * Math.sqrt(parabolaVariance(13, 6.5)), 0.005 / Math.sqrt(3));
        assertPeakBothWays(5.005, u, v, 0.0205);
    }

    /** The same with the record's edge in place of the jump: nothing is known of before. */
    @Test
    void aStretchIsReadWithoutWhatLiesAroundIt() {
        Random random = new Random(5);
        for (int round = 0; round < 200; round++) {
            double noiseV = round % 3 == 0 ? 0 : 0.3;
            double[] v = random.doubles(40, -1, 1).toArray();
            int from = 1 + random.nextInt(10);
            int to = from + 12 + random.nextInt(10);
            double[] alone = Arrays.copyOfRange(v, from, to);
            v[from - 1] = 3;
            v[to] = 3;

            Peak expected = Peak.of(alone, 0, alone.length, noiseV);

            assertPeak(expected.valueV(), expected.standardUV(), Peak.of(v, from, to, noiseV), 0);
        }
    }

    /** Five samples near the top are too few for a parabola with noise, six are enough. */
    @Test
    void sixSamplesNearTheTopAreFitted() {
        double[] six = record(40, i -> i >= 10 && i < 16 ? 1 - 0.001 * (i - 12.4) * (i - 12.4) : 0.5);
        double[] five = record(40, i -> i >= 10 && i < 15 ? 1 - 0.001 * (i - 12.4) * (i - 12.4) : 0.5);

        assertPeakBothWays(1, 0.01 * Math.sqrt(parabolaVariance(6, 12.4 - 12.5)), six, 0.01);
        // read as the highest of five alike samples: lifted by noise
        assertEquals(1 - 0.01, Peak.of(five, 0, five.length, 0.01).valueV(), 0.004);
        assertNotEquals(1, Peak.of(five, 0, five.length, 0.01).valueV(), 1e-6);
    }

    /**
     * A geometric decay after a jump: one step back would be as much higher as each sample is than the next. The truth
     * lies anywhere between the highest sample and there.
     */
    @ParameterizedTest(name = "each sample {0} of the one before")
    @ValueSource(doubles = {0.5, 0.6, 0.8, 0.9})
    void aJumpWasBetweenItsFirstSampleAndAStepBackAlongTheDecay(double ratio) {
        double[] v = record(40, i -> i < 10 ? 0 : 8 * Math.pow(ratio, i - 10));
        double half = 0.5 * (8 / ratio - 8);

        assertPeakBothWays(8 + half, half / Math.sqrt(3), v, 0);
    }

    /** The step back is never taken as less than the last one, nor as more than twice that. */
    @ParameterizedTest(name = "falls by {0}, then by {1}")
    @CsvSource({"2, 2, 2", "1, 2, 1", "4, 1, 8"})
    void theStepBackIsBetweenTheLastStepAndTwiceThat(double last, double next, double back) {
        double[] v = record(20, i -> i < 10 ? 0 : i == 10 ? 20 : i == 11 ? 20 - last : 20 - last - next);

        assertPeakBothWays(20 + 0.5 * back, 0.5 * back / Math.sqrt(3), v, 0);
    }

    /** Where the decay's steps are within four times the noise they say nothing of its pace: the last step stands. */
    @Test
    void aDecayWithinTheNoiseIsTakenAsStraight() {
        double[] v = record(30, i -> i < 10 ? -90 : i == 10 ? 9 : i == 11 ? 5 : i == 12 ? 3 : -90);

        // above the next sample by 4, that by 2 above its own next: twice the pace, if 2 can be told from the noise
        assertEquals(9 + 4, Peak.of(v, 0, v.length, 0.1).valueV(), 1e-6);
        assertEquals(
                9 + 2 - 0.6 * RippleNoise.lift(new double[] {3 / 0.6, 5 / 0.6, 9 / 0.6}, 1),
                Peak.of(v, 0, v.length, 0.6).valueV(),
                1e-6);
    }

    /** A rise of 2 after one of 1 is a smooth curve, any more is a jump (without noise). */
    @Test
    void aRiseTwiceTheOneBeforeIsStillSmooth() {
        double[] smooth = {0, 0, 0, 1, 3, 1, 0, 0, 0};
        double[] jump = {0, 0, 0, 1, 3.01, 1.01, 0.01, 0, 0};

        // symmetric, so that the parabola's top is the sample; third differences of 5 on either side
        assertPeakBothWays(3, 0.385 / Math.sqrt(3) * 5 / 6, smooth, 0);
        assertPeakBothWays(3.01 + 0.5 * 2 * 2, 2 / Math.sqrt(3), jump, 0);
    }

    /** With noise a rise must be four times that larger still to be a jump: 20 after 8 is with 0.9, not with 1.1. */
    @Test
    void noiseIsNotTakenForAJump() {
        double[] v = record(30, i -> 90 - (i <= 14 ? (14 - i) * 8 + (i < 14 ? 12 : 0) : (i - 14) * 15));

        double betweenV = (20 - 15) * (20 - 15) / (8.0 * (20 + 15));
        assertEquals(90 + 0.5 * 15, Peak.of(v, 0, v.length, 0.9).valueV(), 1e-6);
        // 15 below the top is 13.6 standard deviations: the next sample has no part in the highest
        assertEquals(90 + betweenV, Peak.of(v, 0, v.length, 1.1).valueV(), 1e-6);
    }

    /**
     * v = 5 − 0.1 x² + 0.01 x³ about a sample, with time in samples: through three samples the parabola's top is
     * (up − down)² / 8 (up + down) above the middle one; the third difference is 6 · 0.01 everywhere, and a cubic
     * departs from its parabola by x (1 − x²) ≤ 0.385 of a sixth of that.
     */
    @Test
    void aCubicsDepartureFromItsParabolaIsInTheUncertainty() {
        double[] v = record(7, i -> 5 - 0.1 * (i - 3) * (i - 3) + 0.01 * Math.pow(i - 3, 3));

        double up = 0.11;
        double down = 0.09;
        assertPeakBothWays(5 + (up - down) * (up - down) / (8 * (up + down)), 0.385 / Math.sqrt(3) * 0.01, v, 0);
    }

    @Test
    void theHighestSampleStandsWhereTwoNeighboursAreMissing() {
        for (int top = 0; top < 9; top++) {
            int at = top;
            double[] v = record(9, i -> 5 - (i - at - 0.2) * (i - at - 0.2));

            boolean inside = top >= 2 && top <= 6;
            assertPeak(inside ? 5 : 4.96, 0, Peak.of(v, 0, v.length, 0), ROUNDING);
        }
    }

    @Test
    void aRecordThatStandsStillHasItsLevelAsItsHighest() {
        assertPeak(3, 0, Peak.of(record(20, i -> 3), 0, 20, 0), 0);
    }

    /**
     * The mean of the highest of n normal values, from tables of order statistics (from memory; the same follows from
     * 1/√π for two and 3/(2√π) for three). The samples stand apart from each other, so that none is a flat top.
     */
    @ParameterizedTest(name = "{0} alike tops")
    @CsvSource({"1, 0, 1", "2, 0.56419, 0.830743", "10, 1.53875, 0.538375", "100, 2.50759, 0.4"})
    void noiseLiftsTheHighestOfAlikeTops(int tops, double lift, double scatter) {
        double[] v = record(2 * tops + 4, i -> i % 2 == 0 && i < 2 * tops ? 10 : 0);

        // the scatter of a highest value as the class has it, and its noise known to a fifth
        assertPeak(10 - 0.1 * lift, 0.1 * Math.hypot(scatter, 0.2 * lift), Peak.of(v, 0, v.length, 0.1), 1e-6);
    }
}
