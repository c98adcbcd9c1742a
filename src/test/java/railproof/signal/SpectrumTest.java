package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.apache.commons.math3.complex.Complex;
import org.apache.commons.math3.stat.regression.OLSMultipleLinearRegression;
import org.apache.commons.math3.transform.DftNormalization;
import org.apache.commons.math3.transform.FastFourierTransformer;
import org.apache.commons.math3.transform.TransformType;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SpectrumTest {
    /** Window figures recomputed independently; the flat top's 3.7706 bins and Hamming's 1.3638 are published too. */
    @ParameterizedTest
    @CsvSource({
        "RECTANGULAR, 1, 1.0000, 3.9224",
        "HANN, .5, 1.5000, 1.4236",
        "HAMMING, .54, 1.3628, 1.7514",
        "BLACKMAN, .42, 1.7268, 1.0989",
        "BLACKMAN_HARRIS, .35875, 2.0044, 0.8256",
        "FLAT_TOP, .21558, 3.7702, 0.0098"
    })
    void windowsHaveTheirFigures(Window window, double gain, double bandwidth, double scallopingDb) {
        assertEquals(gain, window.coherentGainRatio(), 1e-5);
        assertEquals(bandwidth, window.noiseBandwidthDimensionless(), 1e-3);
        assertEquals(scallopingDb, window.scallopingLossDb(), 1e-3);
        // and the weights themselves have them
        double[] w = window.weights(4096);
        double sum = 0;
        double squares = 0;
        for (double v : w) {
            sum += v;
            squares += v * v;
        }
        assertEquals(gain, sum / w.length, 1e-5);
        assertEquals(bandwidth, squares * w.length / (sum * sum), 1e-3);
    }

    /** Published for the symmetric form: Hamming of 1000 points 1.3638 bins; flat top of 10 000 at 44.1 kHz 16.6285 Hz. */
    @ParameterizedTest
    @CsvSource({"HAMMING, 1000, 1000, 1.3638, 0.00005", "FLAT_TOP, 10000, 44100, 16.6285, 0.00005"})
    void symmetricWindowsHaveTheirPublishedBandwidth(
            Window window, int points, double rateHz, double bandwidthHz, double tolerance) {
        // the symmetric form ends with the weight it began with
        double[] w = Arrays.copyOf(window.weights(points - 1), points);
        w[points - 1] = w[0];
        double sum = Arrays.stream(w).sum();
        double squares = Arrays.stream(w).map(v -> v * v).sum();

        assertEquals(bandwidthHz, rateHz * squares / (sum * sum), tolerance);
    }

    @Test
    void transformAgreesWithAnIndependentLibrary() {
        FastFourierTransformer reference = new FastFourierTransformer(DftNormalization.STANDARD);
        for (int n = 2; n <= 16384; n *= 2) {
            double[] re = new Random(n).doubles(n, -1, 1).toArray();
            double[] im = new double[n];
            Complex[] expected = reference.transform(re, TransformType.FORWARD);
            Fourier.forward(re, im);
            for (int i = 0; i < n; i++) {
                assertEquals(expected[i].getReal(), re[i], 1e-11 * n, "n " + n + " bin " + i);
                assertEquals(expected[i].getImaginary(), im[i], 1e-11 * n, "n " + n + " bin " + i);
            }
        }
    }

    /** Real series by half as long a complex one, padded with zeros to a power of two. */
    @ParameterizedTest
    @CsvSource({"2", "3", "4", "7", "8", "1000", "1024", "16384"})
    void amplitudesOfARealSeriesAgreeWithAnIndependentLibrary(int n) {
        FastFourierTransformer reference = new FastFourierTransformer(DftNormalization.STANDARD);
        double[] samples = new Random(n).doubles(n, -1, 1).toArray();
        int size = Integer.highestOneBit(n - 1) << 1;
        Complex[] expected = reference.transform(Arrays.copyOf(samples, size), TransformType.FORWARD);

        Spectrum found = Spectrum.of(samples, 1, Window.RECTANGULAR);

        assertEquals(size / 2 + 1, found.bins());
        for (int i = 0; i < found.bins(); i++) {
            double once = i == 0 || i == size / 2 ? 1 : 2;
            assertEquals(once * expected[i].abs() / n, found.amplitude(i), 1e-12, "bin " + i);
        }
    }

    /** The fit's closed sums and folded blocks, against a general least squares by QR decomposition. */
    @Test
    void harmonicsAgreeWithAnIndependentLeastSquares() {
        for (int n : new int[] {700, 765, 1023}) {
            Random random = new Random(n);
            double cyclesPerSample = 0.0061 + 0.002 * random.nextDouble();
            double[] y = random.doubles(n, -1, 1).toArray();
            double[][] rows = new double[n][13];
            for (int i = 0; i < n; i++) {
                rows[i][0] = (double) i / n;
                for (int h = 1; h <= 6; h++) {
                    rows[i][2 * h - 1] = Math.cos(2 * Math.PI * h * cyclesPerSample * i);
                    rows[i][2 * h] = Math.sin(2 * Math.PI * h * cyclesPerSample * i);
                }
            }
            OLSMultipleLinearRegression reference = new OLSMultipleLinearRegression();
            reference.newSampleData(y, rows);
            double[] beta = reference.estimateRegressionParameters();
            double[] residuals = reference.estimateResiduals();

            double[] amplitudes = LineHarmonics.takeOff(y, cyclesPerSample, 6);

            for (int h = 1; h <= 6; h++) {
                assertEquals(Math.hypot(beta[2 * h], beta[2 * h + 1]), amplitudes[h], 1e-11, "harmonic " + h);
            }
            // y holds the rest now; doubles' rounding through a well-conditioned system of 14 unknowns
            assertArrayEquals(residuals, y, 1e-11);
        }
    }

    /** A Hann window over whole cycles: neighbours at exactly half, all else nothing. */
    @Test
    void toneInABin() {
        double[] y = CyclesTest.sine(1024, 1024, 50, 3, 2, 0.7);
        Spectrum hann = Spectrum.of(y, 1024, Window.HANN);

        assertEquals(2, hann.amplitude(50), 1e-12);
        assertEquals(1, hann.amplitude(49), 1e-12);
        assertEquals(1, hann.amplitude(51), 1e-12);
        assertEquals(0, hann.amplitude(55), 1e-12);
        assertEquals(3, hann.amplitude(0), 1e-12);
        assertEquals(1, hann.binHz(), 0);
    }

    @Test
    void flatTopReadsTheAmplitudeBetweenTheBins() {
        double[] y = CyclesTest.sine(1024, 1024, 50.5, 0, 2, 0.7);
        double best = Math.max(
                Spectrum.of(y, 1024, Window.FLAT_TOP).amplitude(50),
                Spectrum.of(y, 1024, Window.FLAT_TOP).amplitude(51));

        // 0.0098 dB are 0.11 %
        assertEquals(2, best, 0.0025);
    }

    @Test
    void strongestToneIsFoundOffTheBins() {
        double[] y = CyclesTest.sine(3000, 10_000, 1234.5, 0, 0.1, 0.2);

        // a parabola through the logarithms of a Hann line is good to a twentieth of the 3.3 Hz line spacing
        assertEquals(1234.5, Spectrum.of(y, 10_000, Window.HANN).strongestHz(), 0.2);
    }

    /**
     * A bridge rectifier with one diode open in an independent circuit simulator has 1.1323 V at the line and 0.5246 V
     * at twice the line; made here with those amplitudes, d.c., droop, noise and a 1.7 kHz oscillation on top.
     */
    @Test
    void takesRippleApartAlongTheLine() {
        double lineHz = 59.93;
        double rateHz = 10_000;
        Random random = new Random(7);
        double[] y = new double[2500];
        for (int i = 0; i < y.length; i++) {
            double t = i / rateHz;
            double a = 2 * Math.PI * lineHz * t;
            y[i] = 20.6
                    - 0.1 * t
                    + 1.1323 * Math.sin(a + 1)
                    + 0.5246 * Math.cos(2 * a)
                    + 0.05 * Math.sin(4 * a)
                    + 0.02 * Math.sin(2 * Math.PI * 1700 * t)
                    + 0.001 * random.nextGaussian();
        }

        LineSpectrum found = LineSpectrum.of(y, rateHz, lineHz);

        assertEquals(1.1323, found.amplitudeV(1), 0.0005);
        assertEquals(0.5246, found.amplitudeV(2), 0.0005);
        assertEquals(0, found.amplitudeV(3), 0.0005);
        assertEquals(0.05, found.amplitudeV(4), 0.0005);
        assertEquals(2.158, found.unbalanceRatio(), 0.005);
        assertEquals(0.02 / Math.sqrt(2), found.restRmsV(), 0.0003);
        assertEquals(0.02 / Math.sqrt(2), found.fastRmsV(), 0.0003);
        assertEquals(1700, found.strongestRestHz(), 1);
    }

    @Test
    void refusesRecordsThatHoldNoHarmonics() {
        assertThrows(IllegalArgumentException.class, () -> LineSpectrum.of(new double[100], 2000, 50));
        assertThrows(IllegalArgumentException.class, () -> LineSpectrum.of(new double[1000], 300, 50));
    }

    /** 10 and 60 samples a second put 120 Hz on d.c., 50 and 100 on 20 Hz; 119.9 Hz becomes 0.1 Hz. */
    @Test
    void slowSamplingFoldsRippleOntoTheOutput() {
        assertEquals(0, Aliasing.appearsAtHz(120, 10), 1e-9);
        assertEquals(0, Aliasing.appearsAtHz(120, 60), 1e-9);
        assertEquals(0.1, Aliasing.appearsAtHz(119.9, 10), 1e-9);
        assertEquals(20, Aliasing.appearsAtHz(120, 50), 1e-9);
        assertEquals(20, Aliasing.appearsAtHz(120, 100), 1e-9);
        for (double rate : new double[] {10, 50, 100}) {
            assertEquals(0, Aliasing.appearsAtHz(100, rate), 1e-9);
        }
        assertTrue(Aliasing.hazardsHz(60, 2000, 20).isEmpty());
        assertEquals(
                List.of(120.0, 300.0),
                Aliasing.hazardsHz(60, 100, 20.1).stream()
                        .filter(f -> f == 120 || f == 300)
                        .toList());
    }
}
