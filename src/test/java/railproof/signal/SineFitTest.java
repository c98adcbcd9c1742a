package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SineFitTest {
    /** The method of IEEE Std 1057; the example's answer (2, 3, 1) is exact by construction. */
    @Test
    void threeParametersOfAnExactSine() {
        double[] y = new double[8];
        for (int k = 0; k < 8; k++) {
            y[k] = 1 + 2 * Math.cos(2 * Math.PI * k / 8) + 3 * Math.sin(2 * Math.PI * k / 8);
        }

        SineFit fit = SineFit.atFrequency(y, 8, 1);

        assertEquals(2, fit.cosineDimensionless(), 1e-12);
        assertEquals(3, fit.sineDimensionless(), 1e-12);
        assertEquals(1, fit.offsetDimensionless(), 1e-12);
        assertEquals(3.605551275, fit.amplitude(), 1e-9);
        assertEquals(Math.atan2(-3, 2), fit.phaseDimensionless(), 1e-12);
        assertEquals(0, fit.residualRmsDimensionless(), 1e-12);
    }

    /** Over whole cycles the least-squares sine is the Fourier component, noise or not. */
    @Test
    void equalsTheFourierBinOverWholeCycles() {
        double[] y = new Random(11).doubles(512, -1, 1).toArray();
        Spectrum spectrum = Spectrum.of(y, 512, Window.RECTANGULAR);
        for (int bin : new int[] {1, 7, 100}) {
            assertEquals(
                    spectrum.amplitude(bin), SineFit.atFrequency(y, 512, bin).amplitude(), 1e-12);
        }
    }

    /** Random sines from a start value up to 0.4 of a line width off: exact without noise. Seeds printed. */
    @Test
    void fourParametersFindTheFrequency() {
        for (long seed = 1; seed <= 200; seed++) {
            Random random = new Random(seed);
            double f = 45 + 20 * random.nextDouble();
            double[] y = CyclesTest.sine(1000, 5000, f, 7, 3, 6 * random.nextDouble());

            SineFit fit = SineFit.from(y, 5000, f + 2 * (2 * random.nextDouble() - 1));

            assertEquals(f, fit.frequencyHz(), 1e-9 * f, "seed " + seed);
            assertEquals(3, fit.amplitude(), 1e-9, "seed " + seed);
        }
    }

    @Test
    void residualIsTheNoise() {
        Random random = new Random(3);
        double[] y = CyclesTest.sine(4000, 5000, 50, 0, 1, 0);
        for (int i = 0; i < y.length; i++) {
            y[i] += 0.1 * random.nextGaussian();
        }

        // standard error of an rms from 4000 samples: 1.1 %; three of them
        assertEquals(0.1, SineFit.from(y, 5000, 50.3).residualRmsDimensionless(), 0.0034);
    }

    /** A full-scale sine in b bits: signal over noise 6.0206 b + 1.7609 dB (standard result); 12 bits 74.01 dB. */
    @ParameterizedTest
    @CsvSource({"8, 49.93", "10, 61.97", "12, 74.01", "14, 86.05"})
    void roundingToBitsLeavesItsNoise(int bits, double decibels) {
        double step = 2.0 / (1 << bits);
        double[] y = CyclesTest.sine(20_000, 50_000, 997.3, 0, 1, 0.4);
        for (int i = 0; i < y.length; i++) {
            y[i] = step * Math.rint(y[i] / step);
        }

        SineFit fit = SineFit.from(y, 50_000, 997.3);

        // the rounding of a sine is not quite as uniform as that of noise: worst seen 0.06 dB, at 8 bits
        double found = 20 * Math.log10(fit.amplitude() / Math.sqrt(2) / fit.residualRmsDimensionless());
        assertEquals(decibels, found, 0.1);
        assertEquals(6.0206 * bits + 1.7609, decibels, 0.01);
    }

    /** Ripple of half a step, the level in the middle of a step: nothing of it is left, unless there is noise. */
    @Test
    void rippleBelowAStepIsLostUnlessNoiseCarriesIt() {
        Random random = new Random(8);
        double[] quiet = CyclesTest.sine(50_000, 10_000, 100, 3, 0.25, 0.2);
        double[] noisy = quiet.clone();
        for (int i = 0; i < quiet.length; i++) {
            quiet[i] = Math.rint(quiet[i]);
            noisy[i] = Math.rint(noisy[i] + 0.7 * random.nextGaussian());
        }

        assertEquals(0, SineFit.atFrequency(quiet, 10_000, 100).amplitude(), 1e-12);
        // 0.76 of noise and rounding on 50 000 samples: 0.76 sqrt(2 / 50 000) = 0.005 each; three of them
        assertEquals(0.25, SineFit.atFrequency(noisy, 10_000, 100).amplitude(), 0.015);
    }

    @Test
    void refusesRecordsThatDetermineNoSine() {
        // sampled in step with the signal: cosine and offset are the same column
        assertThrows(IllegalArgumentException.class, () -> SineFit.atFrequency(new double[16], 50, 50));
        assertThrows(IllegalArgumentException.class, () -> SineFit.atFrequency(new double[3], 50, 10));
    }
}
