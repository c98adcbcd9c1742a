package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import railproof.signal.Reservoir.Ideal;
import railproof.signal.Reservoir.Rectifier;

class ReservoirClosedFormsTest {
    private static final double[] OMEGA_RC = {0.05, 0.3, 1, 4, 30, 1000};

    /**
     * The waveform itself, from the crest on: the cosine until the diode lets go at atan(1/ωRC), the exponential down to
     * the trough, where it meets the next crest's cosine. Integrated here by Simpson's rule, piece by piece.
     */
    @ParameterizedTest
    @EnumSource(Rectifier.class)
    void theIdealWaveformIsWhatItsFormulaDraws(Rectifier rectifier) {
        for (double wrc : OMEGA_RC) {
            Ideal found = Reservoir.ideal(rectifier, wrc);
            double period = 2 * Math.PI / rectifier.pulses();
            double off = Math.atan(1 / wrc);
            double on = period - Math.acos(found.lowestRatio());
            DoubleUnaryOperator falling = x -> Math.cos(off) * Math.exp(-(x - off) / wrc);

            // half a wave's cosine falls below zero where the capacitor is small: its trough is where both are alike
            assertEquals(falling.applyAsDouble(on), found.lowestRatio(), 1e-12, "trough at " + wrc);
            assertEquals(1 - found.lowestRatio(), found.ppRatio(), 1e-15);
            double mean = (simpson(Math::cos, on - period, off) + simpson(falling, off, on)) / period;
            assertEquals(mean, found.meanRatio(), 1e-9, "mean at " + wrc);
            double squares = (simpson(x -> Math.pow(Math.cos(x), 2), on - period, off)
                            + simpson(x -> Math.pow(falling.applyAsDouble(x), 2), off, on))
                    / period;
            assertEquals(Math.sqrt(squares - mean * mean), found.rmsRatio(), 1e-8, "rms at " + wrc);
            // I / (p f C) = mean / R · T / C with T = 2 pi / (p omega)
            assertEquals(found.ppRatio() / (mean * period / wrc), found.correctionRatio(), 1e-9);
        }
    }

    private static double simpson(DoubleUnaryOperator f, double from, double to) {
        int n = 2000;
        double step = (to - from) / n;
        double sum = f.applyAsDouble(from) + f.applyAsDouble(to);
        for (int i = 1; i < n; i++) {
            sum += (i % 2 == 1 ? 4 : 2) * f.applyAsDouble(from + i * step);
        }
        return sum * step / 3;
    }

    /** Energy and charge of 4 mF from 20 V to 15 V: 0.35 J, 20 mC. */
    @Test
    void holdUpIsEnergyOverPowerOrChargeOverCurrent() {
        assertEquals(0.35 / 7, Reservoir.holdUpAtPowerS(4e-3, 20, 15, 7), 1e-15);
        assertEquals(20e-3 / 2.5, Reservoir.holdUpS(4e-3, 20, 15, 2.5), 1e-15);
    }

    /**
     * A fall of 1 V a sample with 3 V more on every other one. A tenth of the ripple's 200 samples is an even number of
     * them, over which the 3 V cancel; from one sample to the next they would be all there is to see.
     */
    @Test
    void theSlopeIsTakenOverATenthOfAPeriod() {
        double[] v = new double[400];
        for (int i = 0; i < v.length; i++) {
            v[i] = 1000 - i + 3 * (i % 2);
        }

        assertEquals(-20_000, Reservoir.dischargeSlopeVPerS(v, Rectifier.FULL_WAVE, 20_000, 50), 1e-6);
        assertEquals(-20_000, Reservoir.dischargeSlopeVPerS(v, Rectifier.HALF_WAVE, 20_000, 100), 1e-6);
        // at ten samples a period it is one, at four too
        assertEquals(-1000, Reservoir.dischargeSlopeVPerS(falling(11), Rectifier.FULL_WAVE, 1000, 50), 1e-9);
        assertEquals(-400, Reservoir.dischargeSlopeVPerS(falling(5), Rectifier.FULL_WAVE, 400, 50), 1e-9);
        assertEquals(
                "needs at least 11 samples, got 10",
                Refusal.of(() -> Reservoir.dischargeSlopeVPerS(falling(10), Rectifier.FULL_WAVE, 1000, 50)));
    }

    private static double[] falling(int n) {
        double[] v = new double[n];
        for (int i = 0; i < n; i++) {
            v[i] = 30 - i;
        }
        return v;
    }

    /** Three cycles of 20 samples with troughs of 11, 13 and 12 V: the first is the first sample of its cycle. */
    @Test
    void theTroughsMedianIsWhatTheRegulatorLivesOn() {
        double[] v = new double[61];
        java.util.Arrays.fill(v, 18);
        v[0] = 11;
        v[39] = 13;
        v[59] = 12;
        v[60] = 1;
        Cycles window = Cycles.in(v.length, 1000, 50);

        assertEquals(12 - 5, Reservoir.troughHeadroomV(v, window, 5), 1e-12);
        // a sample that begins the next cycle is none of this one's
        v[40] = 12.5;
        v[39] = 18;
        v[38] = 16;
        assertEquals(12 - 5, Reservoir.troughHeadroomV(v, window, 5), 1e-12);
    }

    @Test
    void refusesNamingWhatIsWrong() {
        assertEquals(positive("2 pi f R C"), Refusal.of(() -> Reservoir.ideal(Rectifier.FULL_WAVE, 0)));
        assertEquals(
                positive("line frequency"), Refusal.of(() -> Reservoir.rippleBoundV(Rectifier.FULL_WAVE, 1, 0, 1e-3)));
        assertEquals(positive("capacitance"), Refusal.of(() -> Reservoir.rippleBoundV(Rectifier.FULL_WAVE, 1, 50, 0)));
        assertEquals(
                positive("load current"), Refusal.of(() -> Reservoir.capacitanceF(Rectifier.FULL_WAVE, 0, 1, 20, 50)));
        assertEquals(positive("ripple"), Refusal.of(() -> Reservoir.capacitanceF(Rectifier.FULL_WAVE, 1, 0, 20, 50)));
        assertEquals(
                positive("mean voltage"), Refusal.of(() -> Reservoir.capacitanceF(Rectifier.FULL_WAVE, 1, 1, 0, 50)));
        assertEquals(
                positive("line frequency"), Refusal.of(() -> Reservoir.capacitanceF(Rectifier.FULL_WAVE, 1, 1, 20, 0)));
        assertEquals(
                positive("line frequency"),
                Refusal.of(() -> Reservoir.dischargeSlopeVPerS(falling(20), Rectifier.FULL_WAVE, 1000, 0)));
        assertEquals(positive("magnitude of the slope"), Refusal.of(() -> Reservoir.capacitanceFromSlopeF(1, 0)));
        StraightLine line = StraightLine.fit(new double[] {0, 1, 2}, new double[] {3, 2, 1});
        assertEquals(
                positive("magnitude of the current step"),
                Refusal.of(() -> Reservoir.seriesResistanceOhm(line, line, 1, 0)));
        assertEquals(positive("load current"), Refusal.of(() -> Reservoir.holdUpS(1e-3, 20, 15, 0)));
        assertEquals(positive("load power"), Refusal.of(() -> Reservoir.holdUpAtPowerS(1e-3, 20, 15, 0)));
        assertEquals(
                "the voltage never falls: no discharge to be seen",
                Refusal.of(() -> Reservoir.dischargeSlopeVPerS(new double[50], Rectifier.FULL_WAVE, 1000, 50)));
    }

    private static String positive(String name) {
        return name + " must be finite and above zero, got 0.0";
    }
}
