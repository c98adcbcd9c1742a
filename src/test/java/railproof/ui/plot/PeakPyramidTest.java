package railproof.ui.plot;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.Random;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class PeakPyramidTest {
    private static void expect(double[] samples, PeakPyramid pyramid, int from, int to, String where) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (int i = from; i < to; i++) {
            low = Math.min(low, samples[i]);
            high = Math.max(high, samples[i]);
        }
        double[] extremes = new double[2];
        pyramid.extremes(from, to, extremes);
        assertEquals(low, extremes[0], where + " lowest of " + from + " to " + to);
        assertEquals(high, extremes[1], where + " highest of " + from + " to " + to);
    }

    @Test
    void findsTheSameExtremesAsReadingEverySample() {
        long seed = new Random().nextLong();
        SplittableRandom random = new SplittableRandom(seed);
        for (int round = 0; round < 300; round++) {
            double[] samples = random.doubles(random.nextInt(1, 3000), -1, 1).toArray();
            PeakPyramid pyramid = PeakPyramid.of(samples);
            for (int stretch = 0; stretch < 30; stretch++) {
                int from = random.nextInt(0, samples.length);
                int to = random.nextInt(from + 1, samples.length + 1);
                expect(samples, pyramid, from, to, "seed " + seed + ",");
            }
        }
    }

    @Test
    void staysExactWhileSamplesAreAppended() {
        long seed = new Random().nextLong();
        SplittableRandom random = new SplittableRandom(seed);
        for (int round = 0; round < 50; round++) {
            int most = random.nextInt(1, 20_000);
            double[] all = random.doubles(10L * most, -1, 1).toArray();
            PeakPyramid pyramid = new PeakPyramid();
            while (pyramid.size() < all.length) {
                int more = Math.min(random.nextInt(1, most + 1), all.length - pyramid.size());
                pyramid.append(java.util.Arrays.copyOfRange(all, pyramid.size(), pyramid.size() + more), more);
                int from = random.nextInt(0, pyramid.size());
                expect(all, pyramid, from, pyramid.size(), "seed " + seed + ",");
                expect(all, pyramid, 0, pyramid.size(), "seed " + seed + ",");
            }
        }
    }

    @Test
    void givesBackEverySampleInItsPlace() {
        double[] all =
                java.util.stream.IntStream.range(0, 100_000).mapToDouble(i -> i).toArray();
        PeakPyramid pyramid = PeakPyramid.of(all);
        for (int i = 0; i < all.length; i++) {
            assertEquals(i, pyramid.sample(i));
        }
    }

    @Test
    void refusesAStretchThatIsNotThere() {
        PeakPyramid pyramid = PeakPyramid.of(1, 2, 3);
        assertThrows(IllegalArgumentException.class, () -> pyramid.extremes(0, 4, new double[2]));
        assertThrows(IllegalArgumentException.class, () -> pyramid.extremes(2, 2, new double[2]));
    }
}
