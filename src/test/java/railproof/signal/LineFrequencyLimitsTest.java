package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;

/** Where the search for a line frequency begins and ends, on sums of sines without noise. */
class LineFrequencyLimitsTest {
    private static double[] sum(int n, double rateHz, double... amplitudesAndHz) {
        double[] y = new double[n];
        for (int k = 0; k < amplitudesAndHz.length; k += 2) {
            for (int i = 0; i < n; i++) {
                y[i] += amplitudesAndHz[k] * Math.cos(2 * Math.PI * amplitudesAndHz[k + 1] * i / rateHz + k);
            }
        }
        return y;
    }

    private static String reason(Reading reading) {
        assertTrue(reading instanceof Missing, reading.toString());
        return ((Missing) reading).reason();
    }

    private static Measured measured(Reading reading) {
        return reading.measured().orElseThrow(() -> new AssertionError(reading.toString()));
    }

    /** Two and a half cycles of 40 Hz at 400 samples per second are 25 samples. */
    @Test
    void twoAndAHalfCyclesOfTheLowestFrequencyAreEnough() {
        assertEquals(
                50, measured(LineFrequency.ofLine(sum(25, 400, 1, 50), 400)).value(), 1e-6);
        assertEquals(
                "a record of 0.06000 s is too short to tell the line frequency",
                reason(LineFrequency.ofLine(sum(24, 400, 1, 50), 400)));
    }

    @ParameterizedTest(name = "{0} Hz")
    @ValueSource(doubles = {40.01, 43, 55.55, 69.99})
    void aFrequencyInRangeIsFoundExactly(double lineHz) {
        assertEquals(
                lineHz,
                measured(LineFrequency.ofLine(sum(800, 2000, 325, lineHz), 2000))
                        .value(),
                1e-7);
        assertEquals(
                lineHz,
                measured(LineFrequency.ofRipple(sum(800, 2000, 0.1, 2 * lineHz), 2000))
                        .value(),
                1e-7);
        // both half-waves unlike: something at the line itself too
        assertEquals(
                lineHz,
                measured(LineFrequency.ofRipple(sum(800, 2000, 0.1, 2 * lineHz, 0.02, lineHz), 2000))
                        .value(),
                1e-7);
    }

    @ParameterizedTest(name = "{0} Hz")
    @ValueSource(doubles = {39.9, 70.1})
    void aFrequencyOutOfRangeIsNone(double lineHz) {
        assertEquals(
                "no line frequency between 40 and 70 Hz",
                reason(LineFrequency.ofLine(sum(800, 2000, 325, lineHz), 2000)));
    }

    /** Of the line itself half the power must be a line's, of ripple 30 %; a tone between the harmonics takes the rest. */
    @ParameterizedTest(name = "tone of {0} beside 1")
    @CsvSource({"0.9, true, true", "1.1, false, true", "1.4, false, true", "1.6, false, false"})
    void whatIsNoHarmonicMustNotBeTooMuch(double tone, boolean line, boolean ripple) {
        assertEquals(
                line,
                LineFrequency.ofLine(sum(800, 2000, 1, 50, tone, 722.5), 2000)
                        .measured()
                        .isPresent());
        assertEquals(
                ripple,
                LineFrequency.ofRipple(sum(800, 2000, 1, 100, tone, 722.5), 2000)
                        .measured()
                        .isPresent());
    }

    @Test
    void theReasonSaysHowMuchWasFound() {
        // a power of 0.5 beside one of 2: a fifth
        assertEquals(
                "no line waveform to be found: what looks most like 50.00 Hz holds 20 % of the signal",
                reason(LineFrequency.ofLine(sum(800, 2000, 1, 50, 2, 722.5), 2000)));
        assertEquals(
                "no ripple: the samples do not vary, or not at any line frequency",
                reason(LineFrequency.ofRipple(new double[800], 2000)));
    }

    /** The degrees of freedom are the samples less d.c., ramp, frequency and two for each harmonic up to 0.45 of the rate. */
    @ParameterizedTest(name = "{0} samples per second")
    @CsvSource({"2000, 8", "800, 7", "400, 3"})
    void harmonicsAreFittedAsFarAsTheRateReaches(double rateHz, int harmonics) {
        // left over: up and down in turn, beyond all harmonics
        double[] y = sum(400, rateHz, 1, 50, 0.01, 0.5 * rateHz);

        assertEquals(
                400 - 3 - 2 * harmonics,
                measured(LineFrequency.ofLine(y, rateHz)).randomDof(),
                0);
    }

    /** One sample 100 times as high as the wave, or ten of them, would be the strongest component by far. */
    @Test
    void wildSamplesDoNotMoveTheStart() {
        double[] y = sum(800, 2000, 1, 50);
        for (int i = 40; i < 800; i += 80) {
            y[i] += i % 160 == 40 ? 100 : -70;
        }

        assertEquals(50, measured(LineFrequency.ofLine(y, 2000)).value(), 1e-6);
    }

    /** Most samples alike, as behind a clipping channel: nothing is cut where nothing scatters. */
    @Test
    void pulsesHaveAFrequencyToo() {
        double[] y = new double[800];
        for (int i = 0; i < 800; i++) {
            y[i] = i % 40 < 6 ? 1 : 0;
        }

        // the harmonics above the eighth are left over: a tenth of the 2.5 Hz that the record tells apart
        assertEquals(50, measured(LineFrequency.ofLine(y, 2000)).value(), 0.25);
    }
}
