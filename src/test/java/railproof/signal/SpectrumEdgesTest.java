package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Spectra of a few samples, whose bins are known, and the limits of what is counted. */
class SpectrumEdgesTest {
    private static final double ROUNDING = 1e-12;

    private static double[] tones(int n, double rateHz, double... amplitudesAndHz) {
        double[] y = new double[n];
        for (int k = 0; k < amplitudesAndHz.length; k += 2) {
            for (int i = 0; i < n; i++) {
                y[i] += amplitudesAndHz[k] * Math.cos(2 * Math.PI * amplitudesAndHz[k + 1] * i / rateHz + k);
            }
        }
        return y;
    }

    @Test
    void aToneAtHalfTheSampleRateIsTheLastBin() {
        Spectrum found = Spectrum.of(new double[] {1, -1, 1, -1, 1, -1, 1, -1}, 1000, Window.RECTANGULAR);

        assertEquals(5, found.bins());
        assertEquals(125, found.binHz(), 0);
        assertEquals(1, found.amplitude(4), ROUNDING);
        assertEquals(500, found.strongestHz(), 0);
    }

    @Test
    void aToneBetweenEmptyBinsIsThatBin() {
        Spectrum found = Spectrum.of(new double[] {1, 0, -1, 0}, 1000, Window.RECTANGULAR);

        assertEquals(1, found.amplitude(1), ROUNDING);
        assertEquals(250, found.strongestHz(), 0);
    }

    /** Amplitudes 1 and 2 in bins 10 and 14 of 32: a fifth of the power and four. */
    @Test
    void sharesAreOfThePowerWithTheirBoundsIncluded() {
        Spectrum found = Spectrum.of(tones(64, 640, 1, 100, 2, 140), 640, Window.RECTANGULAR);

        assertEquals(1, found.shareAbove(0), ROUNDING);
        assertEquals(1, found.shareAbove(100), ROUNDING);
        assertEquals(0.8, found.shareAbove(100.1), ROUNDING);
        assertEquals(0.8, found.shareAbove(140), ROUNDING);
        assertEquals(0, found.shareAbove(140.1), ROUNDING);
        assertEquals(0.2, found.shareNear(100, 3), ROUNDING);
        assertEquals(1, found.shareNear(100, 4), ROUNDING);
        assertEquals(0.8, found.shareNear(150, 1), ROUNDING);
        assertEquals(0, found.shareNear(0, 9), ROUNDING);
    }

    @Test
    void ofNothingThereIsNoShare() {
        Spectrum found = Spectrum.of(new double[16], 1000, Window.HANN);

        assertEquals(0, found.shareAbove(0), 0);
        assertEquals(0, found.shareNear(100, 3), 0);
    }

    /** Four harmonics need more than eight samples a cycle; and three cycles of them. */
    @Test
    void aRecordFitsWithThreeCyclesAndFourHarmonics() {
        assertTrue(LineSpectrum.fits(120, 2000, 50));
        assertFalse(LineSpectrum.fits(119, 2000, 50));
        assertTrue(LineSpectrum.fits(1000, 401, 50));
        assertFalse(LineSpectrum.fits(1000, 400, 50));
        assertFalse(LineSpectrum.fits(1000, 2000, 0));
        assertFalse(LineSpectrum.fits(1000, 2000, -50));
    }

    /** Only the 20th harmonic, 0.2 V: all of the line's power is there, and none at twice the line to be a ratio of. */
    @Test
    void theTwentiethHarmonicIsTheLast() {
        LineSpectrum found = LineSpectrum.of(tones(2000, 10_000, 0.2, 1000), 10_000, 50);

        assertEquals(0.2, found.amplitudeV(20), ROUNDING);
        assertEquals(0.2 / Math.sqrt(2), found.lineRmsV(), ROUNDING);
        assertEquals(0, found.amplitudeV(1), ROUNDING);
        for (int none : new int[] {0, 21}) {
            assertEquals("harmonic must be 1 to 20, got " + none, Refusal.of(() -> found.amplitudeV(none)));
        }
        // at 1000 samples per second ten harmonics are half the rate: nine can be told
        LineSpectrum slow = LineSpectrum.of(tones(300, 1000, 1, 50, 2, 100, 3, 450), 1000, 50);
        assertEquals(3, slow.amplitudeV(9), 1e-9);
        assertEquals(0, slow.amplitudeV(10), 0);
        assertEquals(0.5, slow.unbalanceRatio(), 1e-9);
        assertEquals(0, LineSpectrum.of(new double[300], 1000, 50).unbalanceRatio(), 0);
    }

    /** Tones of 0.2 V that belong to no harmonic: fast is what lies above the twentieth, 1000 Hz. */
    @ParameterizedTest(name = "{0} Hz")
    @CsvSource({"1525, 1", "2975, 1", "725, 0", "125, 0"})
    void fastIsWhatLiesAboveTheTwentiethHarmonic(double toneHz, double share) {
        LineSpectrum found = LineSpectrum.of(tones(4000, 10_000, 1, 50, 0.2, toneHz), 10_000, 50);

        double rms = 0.2 / Math.sqrt(2);
        // whole cycles of both: only the ramp takes a little of the tone
        assertEquals(rms, found.restRmsV(), 1e-4);
        assertEquals(share * rms, found.fastRmsV(), 1e-3);
        assertEquals(rms, found.toneRmsV(), 1e-3);
        assertEquals(toneHz, found.strongestRestHz(), 0.1);
    }

    /** Harmonics nearly up to half the sample rate, in a record of an odd and an even number: nothing is left. */
    @ParameterizedTest(name = "{0} samples")
    @CsvSource({"100", "101", "200", "203"})
    void harmonicsUpToHalfTheSampleRateAreTakenOffExactly(int n) {
        double[] amplitudes = {0, 1, 0.5, 0.25, 2, 0.75};
        double[] y = new double[n];
        for (int i = 0; i < n; i++) {
            y[i] = 3 - 0.01 * i;
            for (int h = 1; h <= 5; h++) {
                y[i] += amplitudes[h] * Math.cos(2 * Math.PI * 0.0937 * h * i + h);
            }
        }

        assertArrayEquals(amplitudes, LineHarmonics.takeOff(y, 0.0937, 5), 1e-10);
        assertArrayEquals(new double[n], y, 1e-10);
    }

    /** 50 Hz at ten samples per second stands still; at thirty it turns up at 10 Hz, its double too. */
    @Test
    void multiplesThatFoldBelowTheBandAreHazards() {
        assertEquals(List.of(50.0, 100.0, 150.0, 200.0, 250.0, 300.0), Aliasing.hazardsHz(50, 10, 1));
        assertEquals(List.of(100.0, 150.0, 200.0, 250.0, 300.0), Aliasing.hazardsHz(50, 10, 50));
        assertEquals(List.of(150.0, 300.0), Aliasing.hazardsHz(50, 30, 10));
        assertEquals(List.of(50.0, 100.0, 150.0, 200.0, 250.0, 300.0), Aliasing.hazardsHz(50, 30, 10.1));
    }
}
