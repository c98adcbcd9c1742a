package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Twenty cycles of 50 Hz at 2000 samples per second, 3 harmonics. What is left over is a tone that fits a whole number of
 * times into the record, and so has no part in d.c. and harmonics, next to none in ramp and frequency.
 */
class HarmonicFitTest {
    private static final double RATE_HZ = 2000;
    private static final int N = 800;
    private static final double LENGTH_S = 0.4;
    private static final int HARMONICS = 3;
    /** Unknowns: d.c., ramp, sine and cosine of each harmonic, frequency. */
    private static final int UNKNOWNS = 9;

    /** Amplitudes 2, 0.5 and 0.25 on 3 V of d.c. and a ramp of 1 V. */
    private static double[] wave(double lineHz) {
        double[] y = new double[N];
        for (int i = 0; i < N; i++) {
            double turn = 2 * Math.PI * lineHz * i / RATE_HZ + 0.7;
            y[i] = 3 + (double) i / N + 2 * Math.cos(turn) + 0.5 * Math.sin(2 * turn) + 0.25 * Math.cos(3 * turn + 1);
        }
        return y;
    }

    private static double[] withTone(double amplitude, double toneHz) {
        double[] y = wave(50);
        for (int i = 0; i < N; i++) {
            y[i] += amplitude * Math.cos(2 * Math.PI * toneHz * i / RATE_HZ);
        }
        return y;
    }

    private static HarmonicFit fit(double[] y) {
        return new HarmonicFit(y, RATE_HZ, 50.4, HARMONICS);
    }

    @ParameterizedTest(name = "{0} Hz")
    @ValueSource(doubles = {49.3, 50, 50.1234, 51.3})
    void aWaveOfItsHarmonicsIsFoundExactly(double lineHz) {
        HarmonicFit found = fit(wave(lineHz));

        assertEquals(lineHz, found.frequencyHz(), 1e-9);
        assertEquals(2, found.amplitude(1), 1e-9);
        assertEquals(0.5, found.amplitude(2), 1e-9);
        assertEquals(0.25, found.amplitude(3), 1e-9);
        assertEquals(1, found.explained(), 1e-12);
        assertEquals(0, found.frequencyU(), 1e-9);
        assertEquals(0, found.amplitudeU(1), 1e-9);
    }

    /** Half the sample rate, 0.1 V up and down in turn: variance 0.01, against a half of 4 + 0.25 + 0.0625. */
    @Test
    void theExplainedShareIsThatOfThePowers() {
        double periodic = 0.5 * (4 + 0.25 + 0.0625);

        assertEquals(periodic / (periodic + 0.01), fit(withTone(0.1, 1000)).explained(), 1e-6);
        assertEquals(N - UNKNOWNS, fit(withTone(0.1, 1000)).dof(), 0);
    }

    /** Where nothing swings no frequency can be told, and so no share of it. */
    @Test
    void aRecordThatStandsStillIsRefused() {
        String refused = Refusal.of(() -> fit(new double[N]));

        assertTrue(refused.startsWith("the samples do not determine the fit"), refused);
    }

    /**
     * The least variance of an estimate from white noise of variance s² (Cramér and Rao): 2 s² / n of an amplitude, and of
     * the frequency 6 s² / (π² n T² Σ h² A²). A ramp has 6 / (π² m²) in common with a sine of m cycles, 0.15 % of its variance
     * and half of that of an amplitude's; 1 % for what it has in common with the frequency's column.
     */
    @ParameterizedTest(name = "harmonic {0}")
    @ValueSource(ints = {1, 2, 3})
    void uncertaintiesAreThoseOfTheCramerRaoBound(int harmonic) {
        HarmonicFit found = fit(withTone(0.1, 1000));

        double s = 0.1 * Math.sqrt((double) N / (N - UNKNOWNS));
        assertEquals(s * Math.sqrt(2.0 / N), found.amplitudeU(harmonic), 1e-3 * s * Math.sqrt(2.0 / N));
        double squares = 4 + 4 * 0.25 + 9 * 0.0625;
        double frequencyU = Math.sqrt(6 * s * s / (Math.PI * Math.PI * N * LENGTH_S * LENGTH_S * squares));
        assertEquals(frequencyU, found.frequencyU(), 0.01 * frequencyU);
    }

    /**
     * What is left hangs together from sample to sample: a tone of 332.5 Hz has the correlation cos 2π 332.5 / 2000 = r, which
     * leaves n (1 − r) / (1 + r) of n samples. No more than 0.99 is believed.
     */
    @ParameterizedTest(name = "left over at {0} Hz")
    @CsvSource({"332.5, 0.50218", "702.5, 0", "200, 0.809017", "17.5, 0.99"})
    void correlationOfWhatIsLeftWidensTheFrequency(double toneHz, double correlation) {
        double white = fit(withTone(0.1, 1000)).frequencyU();
        double found = fit(withTone(0.1 * Math.sqrt(2), toneHz)).frequencyU();

        double expected = Math.sqrt((1 + correlation) / (1 - correlation));
        // of 800 products one is missing, and the tone is cut at the record's ends
        assertEquals(expected, found / white, 0.01 * expected);
    }

    /** Left out are samples beyond six times what the rest scatters by, at most one in fifty: 16 of 800. */
    @ParameterizedTest(name = "{0} wild samples")
    @CsvSource({"0, 0", "1, 1", "3, 3", "16, 16", "17, 16"})
    void wildSamplesAreLeftOut(int wild, int leftOut) {
        double[] y = withTone(0.1, 1000);
        for (int k = 0; k < wild; k++) {
            y[7 + 43 * k] += 5 + 0.1 * k;
        }

        HarmonicFit found = fit(y);

        assertEquals(N - UNKNOWNS - leftOut, found.dof(), 0);
        assertEquals(50, found.frequencyHz(), wild == leftOut ? 1e-3 : 0.02);
    }

    /** Residuals of 0.1 V either way have a robust deviation of 0.148 V: six of those are 0.89 V. */
    @Test
    void aSampleWithinSixDeviationsStays() {
        double[] y = withTone(0.1, 1000);
        y[400] += 0.7;
        assertEquals(N - UNKNOWNS, fit(y).dof(), 0);
        y[400] += 0.2;
        assertEquals(N - UNKNOWNS - 1, fit(y).dof(), 0);
    }
}
