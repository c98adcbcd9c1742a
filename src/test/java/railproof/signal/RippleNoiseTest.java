package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class RippleNoiseTest {
    private static final double RATE_HZ = 25_000;
    private static final double LINE_HZ = 60;
    private static final double NOISE_V = 2e-4;
    private static final int CYCLES = 10;

    private static double[] sawtooth(double ppV, double phase) {
        double[] volts = new double[(int) ((CYCLES + 0.5) / LINE_HZ * RATE_HZ)];
        for (int i = 0; i < volts.length; i++) {
            volts[i] = 5 + ppV * (0.5 - (2 * (i * LINE_HZ / RATE_HZ + phase)) % 1);
        }
        return volts;
    }

    private static double[] noisy(double[] clean, Random random) {
        double[] volts = clean.clone();
        for (int i = 0; i < volts.length; i++) {
            volts[i] += NOISE_V * random.nextGaussian();
        }
        return volts;
    }

    private static Cycles window(double[] volts) {
        return Cycles.in(volts.length, RATE_HZ, LINE_HZ).atMost(CYCLES);
    }

    private static double ppV(double[] volts) {
        return Ripple.of(volts, window(volts)).pp().value();
    }

    /** What noise really adds, by doing it: the mean over many captures of noisy less clean peak-to-peak values. */
    @ParameterizedTest
    @CsvSource({"0.004", "0.012", "0.020"})
    void whatIsTakenOffIsWhatNoiseAdds(double ppV) {
        Random random = new Random(7);
        double added = 0;
        double takenOff = 0;
        int captures = 150;
        for (int k = 0; k < captures; k++) {
            double[] clean = sawtooth(ppV, random.nextDouble());
            double[] noisy = noisy(clean, random);
            added += (ppV(noisy) - ppV(clean)) / captures;
            takenOff += RippleNoise.excessPpV(noisy, window(noisy), NOISE_V) / captures;
        }
        // the procedures count a fifth of it as uncertain
        assertEquals(added, takenOff, 0.1 * added);
    }

    /**
     * Nothing but noise: the range of some 417 normal samples is 6.03 standard deviations. The average of ten cycles is
     * not flat but has a range of 6.03/√10 of its own, so 2 · 3.015 (√1.1 − 1/√10 + (√2 − 1)/√10) = 5.2 are found; the
     * rest is less than the fifth that the procedures count as uncertain.
     */
    @Test
    void ofAFlatOutputLessIsLeftThanIsCountedAsUncertain() {
        Random random = new Random(11);
        double left = 0;
        int captures = 100;
        for (int k = 0; k < captures; k++) {
            double[] noise = noisy(sawtooth(0, 0), random);
            left += (ppV(noise) - RippleNoise.excessPpV(noise, window(noise), NOISE_V)) / captures;
        }
        // one capture's correction scatters by some tenths of a standard deviation
        assertEquals(6.03 - 5.2, left / NOISE_V, 0.2);
    }

    @Test
    void aChannelWithoutNoiseNeedsNoCorrection() {
        double[] volts = sawtooth(0.01, 0.3);

        assertEquals(0, RippleNoise.excessPpV(volts, window(volts), 0));
    }

    @Test
    void theResolutionIsSeenInTheSamples() {
        double step = 10 / 32768.0;
        double[] volts = sawtooth(0.01, 0.3);
        for (int i = 0; i < volts.length; i++) {
            volts[i] = step * Math.rint(volts[i] / step);
        }

        assertEquals(step, RippleNoise.resolutionV(volts), 1e-9);
        assertEquals(0, RippleNoise.resolutionV(new double[] {5, 5, 5}));
    }

    /** Long records are not sorted: the guess from their beginning must not hide a finer step later on. */
    @Test
    void aFinerStepLateInALongRecordIsSeen() {
        double[] volts = new double[20_000];
        for (int i = 0; i < volts.length; i++) {
            volts[i] = 5 + 0.004 * (i % 50);
        }
        assertEquals(0.004, RippleNoise.resolutionV(volts), 1e-12);

        // a neighbour's distance shrinks from 4 to 3 mV: still in a drawer of its own
        volts[15_000] = 5 + 0.003;
        assertEquals(0.001, RippleNoise.resolutionV(volts), 1e-12);
        // half a millivolt from another value: two values in one drawer
        volts[15_001] = 5.0005;
        assertEquals(0.0005, RippleNoise.resolutionV(volts), 1e-12);
    }

    @Test
    void ofUnroundedSamplesTheSmallestGapIsTheSortedOnes() {
        double[] volts = new Random(3).doubles(10_000, 4, 6).toArray();
        double[] rising = volts.clone();
        Arrays.sort(rising);
        double least = 1;
        for (int i = 1; i < rising.length; i++) {
            least = Math.min(least, rising[i] - rising[i - 1]);
        }

        assertEquals(least, RippleNoise.resolutionV(volts), 0);
    }
}
