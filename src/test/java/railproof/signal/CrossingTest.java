package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Crossings of straight lines and of records whose noise is known exactly. */
class CrossingTest {
    private static final double RATE_HZ = 1000;
    /** Noise of a record whose second differences are all 1 or −1, as the estimate has it. */
    private static final double NOISE_OF_PAIRS = 1 / (0.5586 * Math.sqrt(6));

    private static double[] ramp(int n, double perSample) {
        double[] v = new double[n];
        for (int i = 0; i < n; i++) {
            v[i] = perSample * i;
        }
        return v;
    }

    @ParameterizedTest(name = "level {0}")
    @ValueSource(doubles = {50, 50.25, 50.5, 50.9, 51})
    void betweenTwoSamplesTheStraightLineIsTaken(double level) {
        Crossing found = Crossing.after(ramp(100, 1), RATE_HZ, 50, level, 20);

        assertEquals((level - 20) / RATE_HZ, found.atS(), 1e-12);
        assertEquals(1 * RATE_HZ, found.slopeVPerS(), 1e-9);
        assertEquals(0, found.noiseUV(), 0);
    }

    /** A level that lies elsewhere is crossed at the nearer of the two samples. */
    @Test
    void theCrossingStaysBetweenItsSamples() {
        assertEquals(
                30 / RATE_HZ, Crossing.after(ramp(100, 1), RATE_HZ, 50, 49, 20).atS(), 0);
        assertEquals(
                31 / RATE_HZ, Crossing.after(ramp(100, 1), RATE_HZ, 50, 53, 20).atS(), 0);
        // the last sample has no next one
        assertEquals(
                79 / RATE_HZ, Crossing.after(ramp(100, 1), RATE_HZ, 99, 120, 20).atS(), 0);
        assertEquals(
                79 / RATE_HZ, Crossing.after(ramp(100, 0), RATE_HZ, 99, 120, 20).atS(), 0);
    }

    /** Five samples before the one before, five after the one after: 11 sampling intervals. */
    @Test
    void theSlopeIsTakenOverFiveSamplesEitherSide() {
        double[] v = new double[100];
        for (int i = 45; i < 100; i++) {
            v[i] = i < 57 ? 2 * (i - 45) : -1000;
        }
        assertEquals(2 * RATE_HZ, Crossing.after(v, RATE_HZ, 50, 11, 0).slopeVPerS(), 1e-9);
        // over as many as there are at the ends of the record
        assertEquals(2 * RATE_HZ, Crossing.after(ramp(20, 2), RATE_HZ, 1, 3, 0).slopeVPerS(), 1e-9);
        assertEquals(
                2 * RATE_HZ, Crossing.after(ramp(20, -2), RATE_HZ, 17, -35, 0).slopeVPerS(), 1e-9);
        assertEquals(0, Crossing.after(new double[] {7}, RATE_HZ, 0, 7, 0).slopeVPerS(), 0);
    }

    /** A jump at the reference sample and a fall by 2 a sample from there: what stood before is no part of the fall. */
    @Test
    void theSlopeIsThatOfTheChangeAlone() {
        double[] v = new double[100];
        for (int i = 50; i < 100; i++) {
            v[i] = 200 - 2 * (i - 50);
        }

        assertEquals(2 * RATE_HZ, Crossing.after(v, RATE_HZ, 52, 195, 50).slopeVPerS(), 1e-9);
        assertEquals(2 * RATE_HZ, Crossing.after(v, RATE_HZ, 50, 199, 50).slopeVPerS(), 1e-9);
    }

    /**
     * A ramp of 0.5 a sample under noise of 0.731 (every second difference 1 or −1 in the last fifth): six times the noise
     * are 8.8 samples, so that the line goes through 9 on either side and one more, 20 in all.
     */
    @Test
    void aSlowCrossingIsReadOffALineThroughAsManySamplesAsTheNoiseHides() {
        double[] v = ramp(200, 0.5);
        for (int i = 160; i < 200; i++) {
            v[i] = i / 2 % 2;
        }

        Crossing found = Crossing.after(v, RATE_HZ, 100, 52, 0);

        assertEquals(104 / RATE_HZ, found.atS(), 1e-9);
        // a line through n samples: 1/n and the distance from their middle over n (n^2 - 1) / 12
        double variance = 1 / 20.0 + 12 * 3.5 * 3.5 / (20 * (400 - 1.0));
        assertEquals(NOISE_OF_PAIRS * Math.sqrt(variance), found.noiseUV(), 1e-9);
        // not before the reference sample: 12 samples are left
        Crossing late = Crossing.after(v, RATE_HZ, 100, 50, 99);
        assertEquals(1 / RATE_HZ, late.atS(), 1e-9);
        variance = 1 / 12.0 + 12 * 4.5 * 4.5 / (12 * (144 - 1.0));
        assertEquals(NOISE_OF_PAIRS * Math.sqrt(variance), late.noiseUV(), 1e-9);
    }

    /** Where noise is stronger still, thirty samples on either side and one more. */
    @Test
    void noMoreThanThirtySamplesEitherSideAreLookedAt() {
        double[] v = ramp(400, 0.1);
        for (int i = 320; i < 400; i++) {
            v[i] = i / 2 % 2;
        }
        for (int i = 0; i < 70; i++) {
            v[i] = 1000;
        }

        Crossing found = Crossing.after(v, RATE_HZ, 100, 10.05, 0);

        assertEquals(100.5 / RATE_HZ, found.atS(), 1e-9);
        assertEquals(NOISE_OF_PAIRS / Math.sqrt(62), found.noiseUV(), 1e-9);
    }

    /** A line that does not go through the level among its samples says nothing: the two samples do. */
    @Test
    void aLineThatMissesTheLevelIsNotFollowed() {
        double[] v = new double[200];
        for (int i = 0; i < 200; i++) {
            v[i] = i >= 160 ? 10 * (i / 2 % 2) : i == 101 ? 2 : 0.001 * i;
        }

        assertEquals(
                (100 + 0.9 / 1.9) / RATE_HZ,
                Crossing.after(v, RATE_HZ, 100, 1, 0).atS(),
                1e-12);
    }

    /** At the very end of a record no line can be drawn: the two last samples are what there is. */
    @Test
    void atTheEndOfARecordTheTwoSamplesStand() {
        double[] v = new double[100];
        for (int i = 0; i < 100; i++) {
            v[i] = 10 + 10 * (i / 2 % 2);
        }

        assertEquals(0.5 / RATE_HZ, Crossing.after(v, RATE_HZ, 97, 15, 97).atS(), 1e-12);
    }

    /** The spacing is a rectangle (GUM 4.3.7); an error of the level costs that over the slope. */
    @Test
    void anErrorOfTheLevelCostsTimeByTheSlope() {
        double spacingS = 1e-3 / Math.sqrt(12);

        assertEquals(Math.hypot(spacingS, 0.02 / 50), new Crossing(1, 50, 0).standardUS(0.02, RATE_HZ), 1e-15);
        assertEquals(spacingS, new Crossing(1, 0, 0).standardUS(0.02, RATE_HZ), 1e-15);
    }

    /** Delaying record and reference alike, or raising record and level alike, changes nothing. Seeds printed. */
    @Test
    void theTimeIsFreeOfOffsetAndScale() {
        for (long seed = 1; seed <= 100; seed++) {
            Random random = new Random(seed);
            double[] v = ramp(150, 0.05 + random.nextDouble());
            double[] changed = new double[v.length];
            for (int i = 0; i < v.length; i++) {
                v[i] += 0.3 * random.nextGaussian();
                changed[i] = 7 - 4 * v[i];
            }
            double level = 0.5 * (v[70] + v[71]);

            Crossing plain = Crossing.after(v, RATE_HZ, 70, level, 30);
            Crossing turned = Crossing.after(changed, RATE_HZ, 70, 7 - 4 * level, 30);

            assertEquals(plain.atS(), turned.atS(), 1e-12, "seed " + seed);
            assertEquals(4 * plain.slopeVPerS(), turned.slopeVPerS(), 1e-9, "seed " + seed);
            assertEquals(4 * plain.noiseUV(), turned.noiseUV(), 1e-9, "seed " + seed);
        }
    }
}
