package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;

class LineFrequencyTest {
    /** A flattened crest (3rd and 5th harmonic), noise, an offset and two wild samples, as a bench delivers it. */
    @Test
    void findsTheFrequencyOfABadLine() {
        int inside = 0;
        for (long seed = 1; seed <= 100; seed++) {
            Random random = new Random(seed);
            double lineHz = 47 + 16 * random.nextDouble();
            double[] y = line(random, lineHz, 2000, 400 + random.nextInt(600));
            y[random.nextInt(y.length)] += 3000;
            y[random.nextInt(y.length)] = 0;

            Measured found = measured(LineFrequency.ofLine(y, 2000), seed);

            assertEquals(lineHz, found.value(), 8 * found.randomU() + 1e-9, "seed " + seed);
            assertTrue(found.randomU() < 0.02, "seed " + seed + " u " + found.randomU());
            inside += Math.abs(found.value() - lineHz) < 2 * found.randomU() ? 1 : 0;
        }
        // 95 % should be inside; fewer than 85 of 100 has a chance below 1e-4
        assertTrue(inside >= 85, "only " + inside + " of 100 within 2 u");
    }

    @Test
    void cleanLineIsExact() {
        Measured found = measured(LineFrequency.ofLine(CyclesTest.sine(500, 2000, 49.987, 3, 325, 1), 2000), 0);

        assertEquals(49.987, found.value(), 1e-7);
    }

    /** Sawtooth of a full-wave reservoir with halves 20 % unequal: half the strongest component, not that itself. */
    @Test
    void readsTheLineFrequencyOffTheRipple() {
        for (long seed = 1; seed <= 50; seed++) {
            Random random = new Random(seed);
            double lineHz = 49 + 12 * random.nextDouble();
            double[] y = new double[1000];
            for (int i = 0; i < y.length; i++) {
                double place = 2 * lineHz * i / 4000 + 0.37;
                double tooth = place - Math.floor(place);
                boolean second = (long) Math.floor(place) % 2 == 1;
                y[i] = 20 - (second ? 1.2 : 1.0) * tooth + 0.01 * random.nextGaussian();
            }

            Measured found = measured(LineFrequency.ofRipple(y, 4000), seed);

            // harmonics above the eighth are left in the residual: 0.05 Hz is 0.1 %, harmless for a window of 10 cycles
            assertEquals(lineHz, found.value(), 0.05, "seed " + seed);
        }
    }

    @Test
    void refusesWhereThereIsNoLine() {
        for (long seed = 1; seed <= 30; seed++) {
            Random random = new Random(seed);
            double[] noise = random.doubles(800, -1, 1).toArray();
            double[] walk = noise.clone();
            for (int i = 1; i < walk.length; i++) {
                walk[i] += walk[i - 1];
            }

            missing(LineFrequency.ofLine(noise, 2000), seed);
            missing(LineFrequency.ofRipple(noise, 2000), seed);
            missing(LineFrequency.ofLine(walk, 2000), seed);
        }
        missing(LineFrequency.ofLine(new double[500], 2000), 0);
        missing(LineFrequency.ofLine(CyclesTest.sine(800, 2000, 90, 0, 1, 0), 2000), 0);
        missing(LineFrequency.ofLine(CyclesTest.sine(800, 2000, 25, 0, 1, 0), 2000), 0);
        missing(LineFrequency.ofLine(CyclesTest.sine(60, 2000, 50, 0, 1, 0), 2000), 0);
    }

    @Test
    void refusesTooSlowSampling() {
        assertThrows(IllegalArgumentException.class, () -> LineFrequency.ofLine(new double[100], 100));
    }

    private static double[] line(Random random, double lineHz, double rateHz, int n) {
        double[] y = new double[n];
        double phase = 2 * Math.PI * random.nextDouble();
        for (int i = 0; i < n; i++) {
            double a = 2 * Math.PI * lineHz * i / rateHz + phase;
            y[i] = 2
                    + 325 * (Math.sin(a) + 0.05 * Math.sin(3 * a) - 0.03 * Math.sin(5 * a))
                    + 2 * random.nextGaussian();
        }
        return y;
    }

    private static Measured measured(Reading reading, long seed) {
        return reading.measured().orElseThrow(() -> new AssertionError("seed " + seed + ": " + reading));
    }

    private static void missing(Reading reading, long seed) {
        assertTrue(reading instanceof Missing, "seed " + seed + ": " + reading);
    }
}
