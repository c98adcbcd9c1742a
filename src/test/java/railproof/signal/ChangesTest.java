package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** Changes of the output against closed forms: exponentials, straight falls, damped sines. */
class ChangesTest {
    private static final double RATE_HZ = 50_000;

    private static double[] record(int samples, java.util.function.DoubleUnaryOperator ofTimeS) {
        double[] v = new double[samples];
        for (int i = 0; i < samples; i++) {
            v[i] = ofTimeS.applyAsDouble(i / RATE_HZ);
        }
        return v;
    }

    @Test
    void lineEdgesLieWhereTheyAreSaidToBeWhereverInTheCycleTheyFall() {
        long seed = 20261125;
        Random random = new Random(seed);
        int wide = 0;
        for (int i = 0; i < 400; i++) {
            double offS = 0.05 + 0.02 * random.nextDouble();
            double phase = 2 * Math.PI * random.nextDouble();
            double[] going = record(7000, t -> t < offS ? 325 * Math.sin(2 * Math.PI * 50 * t + phase) : 0.05);
            double[] coming = record(7000, t -> t >= offS ? 325 * Math.sin(2 * Math.PI * 50 * t + phase) : 0.05);

            LineEdge off = LineEdge.off(going, RATE_HZ, 50).orElseThrow();
            LineEdge on = LineEdge.on(coming, RATE_HZ, 50).orElseThrow();

            // the edge lies where it is said to, give or take what noise does to the angle of the wave
            assertEquals(offS, off.index() / RATE_HZ + off.atS(), off.halfWidthS() + 1e-6, "seed " + seed);
            assertEquals(offS, on.index() / RATE_HZ + on.atS(), on.halfWidthS() + 1e-6, "seed " + seed);
            // 2 % of the peak either side of the wave's zero, twice asin(0.02) / (2 pi 50 Hz) = 127 us, and a sample
            assertTrue(Math.max(off.halfWidthS(), on.halfWidthS()) <= 0.5 * 148e-6, "seed " + seed);
            wide += off.halfWidthS() > 11e-6 ? 1 : 0;
        }
        // seen about a zero: 127 us and a sample in every 10 ms
        assertTrue(wide >= 1 && wide < 14, wide + " of 400");
    }

    @Test
    void aLineThatStaysHasNoEdges() {
        double[] line = record(7000, t -> 325 * Math.sin(2 * Math.PI * 50 * t + 1));

        assertTrue(LineEdge.off(line, RATE_HZ, 50).isEmpty());
        assertTrue(LineEdge.on(line, RATE_HZ, 50).isEmpty());
    }

    @Test
    void holdUpIsTheTimeToTheLevel() {
        // 12 V held for 20 ms, then down by 100 V/s: 11.4 V after 6 ms more
        double[] out = record(5000, t -> t < 0.03 ? 12 : Math.max(0, 12 - 100 * (t - 0.03)));

        HoldUp holdUp = HoldUp.of(out, RATE_HZ, (int) (0.01 * RATE_HZ), 11.4, 0.005);

        assertEquals(0.026, holdUp.timeS().orElseThrow(), 1e-9);
        // 5 mV at 100 V/s, and the sample spacing
        assertEquals(Math.hypot(50e-6, 20e-6 / Math.sqrt(12)), holdUp.standardUS(), 1e-9);
    }

    @Test
    void anOutputThatStandsToTheEndHasNoHoldUpTime() {
        HoldUp holdUp = HoldUp.of(record(5000, t -> 12), RATE_HZ, 500, 11.4, 0.005);

        assertTrue(holdUp.timeS().isEmpty());
        assertEquals(0.09, holdUp.recordedS(), 1e-9);
    }

    @Test
    void aSmoothRiseTakesItsTimeConstantsAndNeverFallsBack() {
        double[] out = record(10_000, t -> t < 0.01 ? 0 : 5 * (1 - Math.exp(-(t - 0.01) / 0.01)));

        Rise rise = Rise.of(out, RATE_HZ, (int) (0.01 * RATE_HZ), 4.75, 5.25, 0.001);

        assertEquals(0.01 * Math.log(20), rise.timeS().orElseThrow(), 1e-6);
        assertEquals(0, rise.fallBackV());
        assertEquals(0, rise.overshootV(), 1e-6);
    }

    @Test
    void aRiseThatFallsBackAndOvershootsSaysSo() {
        double[] out = record(10_000, t -> t < 0.02 ? 150 * t : t < 0.04 ? 3 - 50 * (t - 0.02) : t < 0.06 ? 5.4 : 5);

        Rise rise = Rise.of(out, RATE_HZ, 1, 4.75, 5.25, 0.001);

        assertEquals(1, rise.fallBackV(), 0.004);
        assertEquals(0.4, rise.overshootV(), 1e-9);
        assertEquals(0.06, rise.timeS().orElseThrow(), 2 / RATE_HZ);
    }

    @Test
    void anOutputThatNeverComesUpHasNoTime() {
        assertTrue(Rise.of(record(1000, t -> 0.24), RATE_HZ, 10, 4.75, 5.25, 0.001)
                .timeS()
                .isEmpty());
    }

    @Test
    void aDampedSineRingsAtItsFrequency() {
        double[] out = record(
                5000,
                t -> t < 0.02
                        ? 12
                        : 12 - 0.5 * Math.exp(-(t - 0.02) / 0.004) * Math.sin(2 * Math.PI * 1234 * (t - 0.02)));

        // crossings of a damped sine are those of the sine; interpolation costs well below a thousandth
        assertEquals(1234, Ringing.frequencyHz(out, RATE_HZ, 1000).orElseThrow(), 1.5);
    }

    @Test
    void rippleIsNotRingingAndASingleSwingNeither() {
        double[] ripple = record(5000, t -> 12 + 0.05 * Math.sin(2 * Math.PI * 100 * t));
        double[] swing = record(5000, t -> t < 0.02 ? 12 : 12 - 0.5 * Math.exp(-(t - 0.02) / 0.001));

        assertTrue(Ringing.frequencyHz(ripple, RATE_HZ, 1000).isEmpty());
        assertTrue(Ringing.frequencyHz(swing, RATE_HZ, 1000).isEmpty());
    }

    @Test
    void theOnsetIsTheFirstSampleBeyondWhatTheRippleDid() {
        double[] out =
                record(5000, t -> 12 + 0.01 * Math.sin(2 * Math.PI * 100 * t) - (t < 0.05 ? 0 : 200 * (t - 0.05)));

        int onset = StepOnset.index(out, 2000).orElseThrow();

        // 20 mV down (10 of ripple and 10 more) at 200 V/s less the ripple's own 6 V/s: 103 us, and the next sample
        assertEquals(0.05 + 113e-6, onset / RATE_HZ, 11e-6);
        assertFalse(StepOnset.index(record(5000, t -> 12 + 0.01 * Math.sin(2 * Math.PI * 100 * t)), 2000)
                .isPresent());
    }

    /** Noise 1: an answer of 100 a sample shows at once, one of 8 takes half a sample to leave 4 times the noise. */
    @Test
    void aSlowAnswerMayHaveBegunBeforeItShows() {
        Random random = new Random(4);
        double[] quiet = random.doubles(1000).map(any -> random.nextGaussian()).toArray();

        assertEquals(1.04, hidden(quiet, 100), 0.01);
        assertEquals(1.5, hidden(quiet, 8), 0.05);
        // no more than two: then the noise would have hidden the sample too
        assertEquals(2, hidden(quiet, 0.5), 1e-12);
        assertEquals(1, hidden(new double[1000], 8), 0);
    }

    private static double hidden(double[] quiet, double pace) {
        double[] v = java.util.Arrays.copyOf(quiet, 1100);
        for (int i = 1000; i < v.length; i++) {
            v[i] = 5 + pace * (i - 1000);
        }
        v[1000 - 1] = 5 - pace;
        return StepOnset.hiddenSamples(v, 990, 1000);
    }

    /** Rounded to codes, noise is that of the samples and of the rounding, √(σ² + 1/12) codes; a median would see 0.61 or 1.21. */
    @Test
    void noiseIsFoundBetweenTheCodesOfAConverter() {
        Random random = new Random(5);
        for (double sd : new double[] {0.5, 0.65, 0.8, 1.3, 5}) {
            double[] codes = new double[20_000];
            for (int i = 0; i < codes.length; i++) {
                codes[i] = Math.rint(100 + 0.01 * i + sd * random.nextGaussian() + (i % 500 == 0 ? 1000 : 0));
            }
            double expected = Math.sqrt(sd * sd + 1 / 12.0);

            // second differences share samples: the mean size of 20 000 is known to about 1 %
            assertEquals(expected, Samples.noiseSd(codes, 0, codes.length), 0.05 * expected, "sd " + sd);
        }
        assertEquals(0, Samples.noiseSd(new double[7], 0, 7), 0);
        assertEquals(0, Samples.noiseSd(new double[8], 0, 8), 0);
    }

    /** Half-way between two samples the noise of a crossing is 1/√2 of theirs, and of a line through many far less. */
    @Test
    void aCrossingsNoiseIsThatOfTheSamplesItRestsOn() {
        Random random = new Random(6);
        double[] steep = new double[1000];
        double[] slow = new double[1000];
        for (int i = 0; i < 1000; i++) {
            steep[i] = (i < 300 ? 0 : i > 310 ? 110 : 11 * (i - 300)) + 0.1 * random.nextGaussian();
            slow[i] = Math.min(110, Math.max(0, 0.3 * (i - 300))) + 0.1 * random.nextGaussian();
        }

        Crossing sharp = Crossing.after(steep, 1000, 305, 60.5, 300);
        Crossing fitted = Crossing.after(slow, 1000, 400, 30, 300);

        assertEquals(0.1 / Math.sqrt(2), sharp.noiseUV(), 0.01);
        assertEquals(5.5e-3, sharp.atS(), 0.05e-3);
        // slope 0.3 a sample: 2 samples on either side and one more, six in all
        assertEquals(0.1 / Math.sqrt(6), fitted.noiseUV(), 0.01);
        assertEquals(0.1, fitted.atS(), 1e-3);
    }
}
