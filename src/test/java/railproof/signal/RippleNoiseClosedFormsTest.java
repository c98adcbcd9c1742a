package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Expected highest of n normal values: 1/√π for two, 3/(2√π) for three, the others from tables of order statistics (from
 * memory; the two that have a closed form show the tables to be of the same thing).
 */
class RippleNoiseClosedFormsTest {
    /** The distribution function's own straight lines are good to 1e-6, the tables to half of 1e-5. */
    private static final double TABLE = 1e-5;

    @ParameterizedTest(name = "{0} alike samples")
    @CsvSource({
        "1, 0",
        "2, 0.564190",
        "3, 0.846284",
        "4, 1.02938",
        "5, 1.16296",
        "6, 1.26721",
        "10, 1.53875",
        "20, 1.86748",
        "100, 2.50759"
    })
    void alikeSamplesAreLiftedByTheMeanOfTheHighestOfSoMany(int count, double expected) {
        double[] alike = new double[count];
        Arrays.fill(alike, 3);

        assertEquals(expected, RippleNoise.lift(alike, 1), TABLE);
        assertEquals(1e-4 * expected, RippleNoise.lift(alike, 1e-4), 1e-4 * TABLE);
        assertEquals(100 * expected, RippleNoise.lift(alike, 100), 100 * TABLE);
        // as many more far below have no part in it
        double[] withOthers = new double[2 * count];
        Arrays.fill(withOthers, count, 2 * count, 30);
        assertEquals(expected, RippleNoise.lift(withOthers, 1), TABLE);
    }

    /** A double of 5 is rounded to 9e-16: noise below that lifts by no more. */
    @Test
    void noiseBelowTheDoublesRoundingIsNoTrouble() {
        double below = 5 - Math.ulp(5.0) / 2;
        for (double sd : new double[] {1e-15, 1e-16, 1e-17, 1e-300}) {
            assertEquals(0, RippleNoise.lift(new double[] {below, below, 5, 5, 5}, sd), 4 * Math.ulp(5.0));
        }
    }

    /** Of two normal values d apart the highest has the mean θ φ(d/θ) − d Φ(−d/θ) above the upper, θ = √2 (Clark 1961, from memory). */
    @ParameterizedTest(name = "{0} standard deviations apart")
    @CsvSource({"0.1", "1", "2", "4"})
    void twoSamplesApartAreLiftedByTheClosedForm(double apart) {
        double theta = Math.sqrt(2);
        double density = Math.exp(-0.5 * apart * apart / 2) / Math.sqrt(2 * Math.PI);
        double expected = theta * density - apart * Students.normalCdf(-apart / theta);

        assertEquals(expected, RippleNoise.lift(new double[] {5 - apart, 5}, 1), TABLE);
    }

    /**
     * Each cycle of eight samples six at 5 V and two at 1 V, four cycles: the six lift the top by 1.26721, the two push
     * the bottom by 0.56419, and half of that again is in the average of four already.
     */
    @ParameterizedTest(name = "{0} cycles")
    @CsvSource({"1, 2", "4, 1.5", "16, 1.25"})
    void whatNoiseAddsToARectangleIsThatOfItsTwoLevels(int cycles, double share) {
        double[] v = new double[8 * cycles + 1];
        for (int i = 0; i < v.length; i++) {
            v[i] = i % 8 < 6 ? 5 : 1;
        }
        Cycles window = Cycles.in(v.length, 400, 50);

        assertEquals(cycles, window.count());
        assertEquals(0.01 * share * (1.26721 + 0.56419), RippleNoise.excessPpV(v, window, 0.01), 0.01 * 4 * TABLE);
        assertEquals(0, RippleNoise.excessPpV(v, window, 0), 0);
        assertEquals(0, RippleNoise.excessPpV(v, window, Double.NaN), 0);
    }

    /** Cycles that differ are averaged: 1 V more in every second one is half of it in the middle. */
    @Test
    void theCyclesAreAveragedBeforeTheyAreRead() {
        double[] v = new double[33];
        for (int i = 0; i < v.length; i++) {
            v[i] = i % 8 == 3 ? (i / 8 % 2 == 0 ? 6 : 4) : i % 8 == 5 ? 5 : 1;
        }

        // the third sample's mean is that of the fifth: two alike at the top, six at the bottom
        double expected = 0.01 * 1.5 * (0.56419 + 1.26721);
        assertEquals(expected, RippleNoise.excessPpV(v, Cycles.in(33, 400, 50), 0.01), 0.01 * 4 * TABLE);
    }

    @Test
    void differencesWithinTheDoublesRoundingAreNoStep() {
        assertEquals(1, RippleNoise.resolutionV(new double[] {1e6, 1e6 + 5e-7, 1e6 + 1}), 1e-6);
        assertEquals(1, RippleNoise.resolutionV(new double[] {-1e6, -1e6 - 5e-7, -1e6 - 1}), 1e-6);
        assertEquals(2e-6, RippleNoise.resolutionV(new double[] {1e6, 1e6 + 2e-6, 1e6 + 1}), 1e-9);
        assertEquals(0, RippleNoise.resolutionV(new double[] {7}), 0);
    }

    /** Long or short, shuffled or not, turned over or not: the converter's step is what it is. Seeds printed. */
    @Test
    void theStepOfAConverterIsFoundInAnyOrder() {
        for (long seed = 1; seed <= 20; seed++) {
            Random random = new Random(seed);
            double step = 0.001 * (1 + random.nextInt(9));
            double[] v = new double[seed % 2 == 0 ? 9000 : 300];
            for (int i = 0; i < v.length; i++) {
                v[i] = step * (random.nextInt(200) - 100) + 1e-15 * random.nextInt(3);
            }
            double[] turned = Arrays.stream(v).map(x -> 12 - x).toArray();

            assertEquals(step, RippleNoise.resolutionV(v), 1e-12, "seed " + seed);
            assertEquals(step, RippleNoise.resolutionV(turned), 1e-12, "seed " + seed);
        }
    }

    @Test
    void refusesARecordOfNothing() {
        assertEquals("needs at least 1 samples, got 0", Refusal.of(() -> RippleNoise.resolutionV(new double[0])));
    }
}
