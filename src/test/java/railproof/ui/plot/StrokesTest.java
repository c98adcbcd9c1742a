package railproof.ui.plot;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class StrokesTest {
    private static final int INK = 0xFF0B4F6C;

    /** The row of a value when the picture reaches from −1 at the bottom to 1 at the top. */
    private static int row(double value, int height) {
        return (int) Math.round((1 - value) / 2 * (height - 1));
    }

    @Test
    void everyColumnReachesFromItsLowestToItsHighestSampleHoweverTheCaptureGrew() {
        long seed = new Random().nextLong();
        SplittableRandom random = new SplittableRandom(seed);
        for (int round = 0; round < 60; round++) {
            int width = random.nextInt(1, 400);
            int height = random.nextInt(2, 300);
            Strokes picture = new Strokes(width, height);
            PeakPyramid trace = new PeakPyramid();
            double[] all =
                    random.doubles(random.nextInt(width, 60_000), -0.2, 0.2).toArray();
            for (int peak = 0; peak < 20; peak++) {
                all[random.nextInt(all.length)] = random.nextDouble(-1, 1);
            }
            while (trace.size() < all.length) {
                int more = Math.min(random.nextInt(1, 30_000), all.length - trace.size());
                trace.append(java.util.Arrays.copyOfRange(all, trace.size(), trace.size() + more), more);
                picture.paint(trace, -1, 1, INK, 2);
            }

            for (int x = 0; x < width; x++) {
                double low = Double.POSITIVE_INFINITY;
                double high = Double.NEGATIVE_INFINITY;
                int from = (int) ((long) x * all.length / width);
                for (int i = from; i < (int) ((long) (x + 1) * all.length / width); i++) {
                    low = Math.min(low, all[i]);
                    high = Math.max(high, all[i]);
                }
                String where = "seed " + seed + ", column " + x + " of " + width;
                for (int y = row(high, height); y <= row(low, height); y++) {
                    assertEquals(INK, picture.pixels()[y * width + x], where + ", row " + y);
                }
            }
        }
    }

    @Test
    void aColumnGoesNoFartherThanItsSamplesAndItsNeighbours() {
        PeakPyramid trace = new PeakPyramid();
        double[] level = new double[1000];
        level[500] = 0.9;
        trace.append(level, level.length);
        Strokes picture = new Strokes(10, 101);

        picture.paint(trace, -1, 1, INK, 2);

        for (int x = 0; x < 10; x++) {
            for (int y = 0; y < 101; y++) {
                // level at row 50 and two pixels thick; the column of the peak from its row down
                boolean inked = y == 50 || (y == 51 && x != 5) || (x == 5 && y >= 5 && y <= 50);
                int expected = inked ? INK : 0;
                assertEquals(expected, picture.pixels()[y * 10 + x], "column " + x + ", row " + y);
            }
        }
    }
}
