package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Locale;
import java.util.Random;
import java.util.function.DoubleSupplier;
import org.apache.commons.math3.transform.DftNormalization;
import org.apache.commons.math3.transform.FastFourierTransformer;
import org.apache.commons.math3.transform.TransformType;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import railproof.base.SystemClock;
import railproof.base.Unit;

/**
 * What the analysis of a long capture costs, against one plain pass over the same memory and against an independent
 * library's transform of the same block. Prints; asserts nothing on time, but that what was timed gave the right value.
 */
@Tag("bench")
class RippleBenchTest {
    private static final int SAMPLES = 1 << 20;
    private static final double RATE_HZ = 100_000;
    private static final double LINE_HZ = 49.97;
    private static final double PP_V = 0.2;
    /** A 16-bit converter over 20 V. */
    private static final double STEP_V = 20 / 65536.0;

    private static final double NOISE_V = 3e-4;

    /** Long enough for the machine's compiler to come to its end beside it. */
    private static final long FOR_NS = 1_000_000_000L;

    @Test
    void analysisOfAMillionSamples() {
        double[] volts = capture();
        Cycles window = Cycles.in(SAMPLES, RATE_HZ, LINE_HZ);
        double passS = best("plain pass: the sum", 1, () -> sum(volts));
        double rippleS = best("peak to peak and rms of each cycle", passS, () -> Ripple.of(volts, window)
                .pp()
                .value());
        double meanS = best("mean with its scatter", passS, () -> window.measuredMean(volts, Unit.VOLT)
                .value());
        double noiseS = best("what noise adds", passS, () -> RippleNoise.excessPpV(volts, window, NOISE_V));
        double stepS = best("the converter's step", passS, () -> RippleNoise.resolutionV(volts));
        report("the four together, as a point is read", rippleS + meanS + noiseS + stepS, passS);
        double spectrumS = best("taken apart along the line", passS, () -> LineSpectrum.of(volts, RATE_HZ, LINE_HZ)
                .amplitudeV(2));
        double ownS = best("own transform, windowed", passS, () -> Spectrum.of(volts, RATE_HZ, Window.HANN)
                .amplitude(0));
        FastFourierTransformer library = new FastFourierTransformer(DftNormalization.STANDARD);
        double libraryS =
                best("library's transform", passS, () -> library.transform(volts, TransformType.FORWARD)[0].getReal());
        say(
                "against the library's transform: reading a point %.2f, own transform %.2f, along the line %.2f",
                (rippleS + meanS + noiseS + stepS) / libraryS, ownS / libraryS, spectrumS / libraryS);

        assertEquals(STEP_V, RippleNoise.resolutionV(volts), 1e-9);
        // noise known to a fifth, as the procedures count it, and a step of the converter
        double excessV = RippleNoise.excessPpV(volts, window, NOISE_V);
        assertEquals(PP_V, Ripple.of(volts, window).pp().value() - excessV, 0.2 * excessV + STEP_V);
        // a sawtooth's first harmonic is pp / pi; the converter's step adds nothing to speak of
        assertEquals(PP_V / Math.PI, LineSpectrum.of(volts, RATE_HZ, LINE_HZ).amplitudeV(2), 1e-4);
    }

    private static double[] capture() {
        Random random = new Random(20);
        double[] volts = new double[SAMPLES];
        for (int i = 0; i < SAMPLES; i++) {
            double v = 5 + PP_V * (0.5 - (2 * i * LINE_HZ / RATE_HZ) % 1) + NOISE_V * random.nextGaussian();
            volts[i] = STEP_V * Math.rint(v / STEP_V);
        }
        return volts;
    }

    private static double sum(double[] volts) {
        double sum = 0;
        for (double v : volts) {
            sum += v;
        }
        return sum;
    }

    private static double best(String what, double passS, DoubleSupplier work) {
        double best = Double.POSITIVE_INFINITY;
        long untilNs = SystemClock.INSTANCE.nowNs() + FOR_NS;
        while (SystemClock.INSTANCE.nowNs() < untilNs) {
            long startNs = SystemClock.INSTANCE.nowNs();
            double value = work.getAsDouble();
            best = Math.min(best, (SystemClock.INSTANCE.nowNs() - startNs) * 1e-9);
            assertEquals(value, work.getAsDouble(), 0);
        }
        report(what, best, passS == 1 ? best : passS);
        return best;
    }

    private static void report(String what, double s, double passS) {
        say("%s: %.2f ms, %.1f ns per sample, %.1f passes", what, s * 1e3, s * 1e9 / SAMPLES, s / passS);
    }

    private static void say(String format, Object... values) {
        System.getLogger("bench").log(System.Logger.Level.INFO, String.format(Locale.ROOT, format, values));
    }
}
