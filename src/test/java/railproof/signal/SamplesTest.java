package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SamplesTest {
    private static String refusal(double... samples) {
        return Refusal.of(() -> Samples.require(samples, 1));
    }

    /** Wherever it stands: the samples are added in four strands and what is left over. */
    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
    void theFirstSampleThatIsNotFiniteIsNamed(double wrong) {
        for (int at = 0; at < 7; at++) {
            double[] v = {1, 2, 3, 4, 5, 6, 7};
            v[at] = wrong;

            assertEquals("sample " + at + " is " + wrong + ", samples must be finite", refusal(v));
        }
        assertEquals("sample 1 is " + wrong + ", samples must be finite", refusal(0, wrong, -wrong));
    }

    /** Finite samples are good samples, even where their sum is none. */
    @Test
    void samplesAtTheEndOfTheRangeAreFinite() {
        Samples.require(new double[] {Double.MAX_VALUE, Double.MAX_VALUE, Double.MAX_VALUE}, 3);
        Samples.require(new double[0], 0);
    }

    @Test
    void tooFewSamplesAreRefusedWithBothNumbers() {
        assertEquals("needs at least 1 samples, got 0", refusal());
    }

    /** Whole numbers add without rounding: any part of 1, 2, 4, 8 ... has a sum of its own. */
    @Test
    void sumsAreOfExactlyTheSamplesAskedFor() {
        double[] powers = new double[12];
        for (int i = 0; i < powers.length; i++) {
            powers[i] = 1 << i;
        }
        for (int from = 0; from <= powers.length; from++) {
            for (int to = from; to <= powers.length; to++) {
                assertEquals((1 << to) - (1 << from), Samples.sum(powers, from, to), 0);
                double squares = 0;
                for (int i = from; i < to; i++) {
                    squares += (powers[i] - 3) * (powers[i] - 3);
                }
                assertEquals(squares, Samples.squares(powers, 3, from, to), 0);
            }
        }
    }

    @Test
    void theMedianIsTheMiddleOneOrHalfwayBetweenTheTwo() {
        assertEquals(5, Samples.median(new double[] {5}), 0);
        assertEquals(3, Samples.median(new double[] {3, 7, 1}), 0);
        assertEquals(5, Samples.median(new double[] {9, 7, 1, 3}), 0);
        assertEquals(7, Samples.median(new double[] {0, 9, 7, 3, 0}, 1, 4), 0);
    }

    /** Of ten equally spaced values the quarters' distances from the middle: (0.5 + 1.5 + ... ) median 2.5. */
    @Test
    void theRobustDeviationIsThatOfTheMiddleDistance() {
        assertEquals(1.4826 * 2.5, Samples.robustSd(new double[] {4, 1, 2, 3, 0, 5, 6, 9, 8, 7}), 1e-12);
        // one wild value moves neither the middle one nor the middle distance beyond the next value
        assertEquals(1.4826 * 2.5, Samples.robustSd(new double[] {4, 1, 2, 3, 0, 5, 6, 900, 8, 7}), 1e-12);
    }

    @Test
    void theExtentIsLowestAndHighestWhereverTheyStand() {
        double[] v = {9, 3, 1, 4, 1.5, 9, -7};

        assertEquals(new Samples.Extent(1, 9), Samples.extent(v, 0, 6));
        assertEquals(new Samples.Extent(1, 4), Samples.extent(v, 1, 5));
        assertEquals(new Samples.Extent(4, 4), Samples.extent(v, 3, 4));
        assertEquals(16, Samples.extent(v, 0, 7).span(), 0);
    }

    /** Of either sign and of any size, from the smallest double to nearly the largest. */
    @Test
    void theExtentOfAnySamplesIsThatOfTheirPlainOrder() {
        long seed = System.nanoTime();
        Random random = new Random(seed);
        for (int round = 0; round < 2000; round++) {
            double middle = random.nextInt(3) - 1;
            double[] v = random.doubles(1 + random.nextInt(20))
                    .map(x -> (middle + 2 * x - 1) * Math.scalb(1.0, random.nextInt(2000) - 1070))
                    .toArray();
            Samples.Extent extent = Samples.extent(v, 0, v.length);
            assertEquals(Arrays.stream(v).min().orElseThrow(), extent.low(), "seed " + seed);
            assertEquals(Arrays.stream(v).max().orElseThrow(), extent.high(), "seed " + seed);
        }
    }

    /**
     * Without a line the last fifth after the change, and of that the middle half: of the twenty samples 80 to 99 of a
     * straight line the mean is that of all, and five wild ones on either side do not count, wherever they stand.
     */
    @Test
    void theFinalLevelIsTheMiddleHalfOfTheLastFifth() {
        double[] v = new double[100];
        for (int i = 0; i < 100; i++) {
            v[i] = i < 80 ? -1000 : i;
        }
        assertEquals(89.5, Samples.finalLevel(v, 0, 0), 1e-12);

        for (int i : new int[] {82, 85, 88, 91, 94}) {
            v[i] = 1000;
        }
        double middle = (89 + 90 + 92 + 93 + 95 + 96 + 97 + 98 + 99 + 87) / 10.0;
        assertEquals(middle, Samples.finalLevel(v, 0, 0), 1e-12);
        // 30 samples after the change: the last six, one of them wild, and of those the middle four
        assertEquals((96 + 97 + 98 + 99) / 4.0, Samples.finalLevel(v, 70, 0), 1e-12);
        // two at least
        assertEquals(98.5, Samples.finalLevel(v, 97, 0), 1e-12);
    }

    /** Whole cycles: two of 40 samples in a fifth of 450, one where a fifth holds less, none beyond half the record. */
    @Test
    void withALineTheFinalLevelIsThatOfWholeCycles() {
        double[] v = new double[500];
        for (int i = 0; i < 500; i++) {
            v[i] = i;
        }

        assertEquals(500 - 0.5 - 0.5 * 80, Samples.finalLevel(v, 50, 40), 1e-12);
        assertEquals(500 - 0.5 - 0.5 * 40, Samples.finalLevel(v, 350, 40), 1e-12);
        assertEquals(500 - 0.5 - 0.5 * 40, Samples.finalLevel(v, 420, 40), 1e-12, "two cycles after the change");
        assertEquals(500 - 0.5 - 0.5 * 15, Samples.finalLevel(v, 421, 40), 1e-12, "not quite two: a fifth of 79");
        // a cycle that is no whole number of samples: two of 40.4 are 81 samples
        assertEquals(500 - 0.5 - 0.5 * 81, Samples.finalLevel(v, 50, 40.4), 0.5 / 81 + 1e-12);
        // a sample is a cycle, less is none
        assertEquals(500 - 0.5 - 0.5 * 90, Samples.finalLevel(v, 50, 1), 1e-12);
        assertEquals(500 - 0.5 - 0.5 * 90, Samples.finalLevel(v, 50, 0.7), 1e-12);
    }

    /** Scaling scales, shifting and a straight slope do nothing to a second difference. Seeds printed. */
    @Test
    void noiseIsFreeOfOffsetAndSlope() {
        for (long seed = 1; seed <= 50; seed++) {
            Random random = new Random(seed);
            double[] v = random.doubles(50, -1, 1).toArray();
            double[] changed = new double[50];
            for (int i = 0; i < 50; i++) {
                changed[i] = 100 + 3 * i - 7 * v[i];
            }

            double plain = Samples.noiseSd(v, 5, 45);
            assertEquals(7 * plain, Samples.noiseSd(changed, 5, 45), 1e-10, "seed " + seed);
            assertEquals(plain, Samples.noiseSd(Arrays.copyOfRange(v, 5, 45), 0, 40), 0, "seed " + seed);
        }
    }

    /** Second differences 1, 1, 1, 1, 1 and 9: of six the largest, a sixth, is an edge. */
    @Test
    void anEdgeIsNoNoise() {
        double[] pairs = {0, 0, 1, 1, 0, 0, 1, 1};
        double[] withAnEdge = {0, 0, 1, 1, 0, 0, 1, 11};

        double ofPairs = 1 / (0.5586 * Math.sqrt(6));
        assertEquals(ofPairs, Samples.noiseSd(pairs, 0, 8), 1e-12);
        assertEquals(ofPairs, Samples.noiseSd(withAnEdge, 0, 8), 1e-12);
        assertEquals(0, Samples.noiseSd(pairs, 0, 7), 0, "seven samples have no noise to speak of");
    }
}
