package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.base.Measured;
import railproof.base.Unit;

/** Straight lines are integrated exactly, wherever a cycle ends between two samples. */
class CyclesClosedFormsTest {
    private static final double RATE_HZ = 1000;
    private static final double ROUNDING = 1e-9;

    private static double[] ramp(int n, double at0, double perSample) {
        double[] y = new double[n];
        for (int i = 0; i < n; i++) {
            y[i] = at0 + perSample * i;
        }
        return y;
    }

    @ParameterizedTest(name = "{0} Hz")
    @ValueSource(doubles = {50, 60, 47.3, 61.7, 125})
    void theMeanOfARampIsItsMiddle(double lineHz) {
        double[] y = ramp(200, 3, 0.25);
        Cycles window = Cycles.in(y.length, RATE_HZ, lineHz);
        double perCycle = RATE_HZ / lineHz;

        assertEquals(perCycle, window.samplesPerCycle(), ROUNDING);
        assertEquals(3 + 0.25 * 0.5 * window.count() * perCycle, window.mean(y), ROUNDING);
        double[] means = window.cycleMeans(y);
        for (int i = 0; i < means.length; i++) {
            assertEquals(3 + 0.25 * (i + 0.5) * perCycle, means[i], ROUNDING);
        }
    }

    /** The squares of a curve are taken as straight between samples: so its square is exactly, if it is a ramp. */
    @ParameterizedTest(name = "{0} Hz")
    @ValueSource(doubles = {50, 60, 47.3, 61.7, 125})
    void theMeanSquareOfARootIsTheMiddleOfItsRamp(double lineHz) {
        double[] y = ramp(200, 3, 0.25);
        for (int i = 0; i < y.length; i++) {
            y[i] = Math.sqrt(y[i]);
        }
        Cycles window = Cycles.in(y.length, RATE_HZ, lineHz);
        double perCycle = RATE_HZ / lineHz;

        assertEquals(Math.sqrt(3 + 0.25 * 0.5 * window.count() * perCycle), window.rms(y), ROUNDING);
        // about any level: with 7 V added and taken off again
        double[] raised = new double[y.length];
        double[] level = new double[window.count()];
        for (int i = 0; i < y.length; i++) {
            raised[i] = 7 + y[i];
        }
        java.util.Arrays.fill(level, 7);
        double[] rms = window.cycleAcRms(raised, level);
        for (int i = 0; i < rms.length; i++) {
            assertEquals(Math.sqrt(3 + 0.25 * (i + 0.5) * perCycle), rms[i], ROUNDING);
        }
    }

    @Test
    void aCyclesFirstSampleIsTheOneOnItsBeginningOrTheNext() {
        Cycles even = Cycles.in(200, RATE_HZ, 50);
        Cycles odd = Cycles.in(200, RATE_HZ, 60);

        assertEquals(0, even.firstSample(0));
        assertEquals(20, even.firstSample(1));
        assertEquals(180, even.firstSample(9));
        assertEquals(17, odd.firstSample(1));
        assertEquals(34, odd.firstSample(2));
        assertEquals(50, odd.firstSample(3));
    }

    @Test
    void oneCycleIsTheLeastAndEightSamplesInIt() {
        assertEquals(1, Cycles.in(9, 400, 50).count());
        assertEquals(1, Cycles.in(21, RATE_HZ, 50).count());
        assertEquals(1, Cycles.in(200, RATE_HZ, 50).atMost(1).count());
        assertEquals(9, Cycles.in(200, RATE_HZ, 50).atMost(100).count());
        assertEquals(
                "399.0 samples per second are too few for a line of 50.00 Hz: at least 8 per cycle",
                Refusal.of(() -> Cycles.in(200, 399, 50)));
        assertEquals(
                "20 samples at 1000 Hz hold no whole cycle of 50.00 Hz", Refusal.of(() -> Cycles.in(20, 1000, 50)));
        assertEquals("at least one cycle, got 0", Refusal.of(() -> Cycles.in(200, RATE_HZ, 50)
                .atMost(0)));
        assertEquals("sample rate must be finite and above zero, got -1.0", Refusal.of(() -> Cycles.in(200, -1, 50)));
        assertEquals(
                "line frequency must be finite and above zero, got -50.0", Refusal.of(() -> Cycles.in(200, 1000, -50)));
    }

    /** Nine cycles of 20 samples end at sample 180, which is the 181st. */
    @Test
    void theRecordHasToHoldTheWholeWindow() {
        Cycles window = Cycles.in(200, RATE_HZ, 50);
        double[] enough = ramp(181, 1, 0);
        double[] less = ramp(180, 1, 0);

        assertEquals(1, window.mean(enough), ROUNDING);
        assertEquals(1, window.rms(enough), ROUNDING);
        assertEquals(0, window.acRms(enough), ROUNDING);
        assertEquals("needs at least 181 samples, got 180", Refusal.of(() -> window.mean(less)));
        assertEquals("needs at least 181 samples, got 180", Refusal.of(() -> window.rms(less)));
        assertEquals("needs at least 181 samples, got 180", Refusal.of(() -> window.acRms(less)));
        assertEquals("needs at least 181 samples, got 180", Refusal.of(() -> window.cycleMeans(less)));
    }

    /** Of one cycle the samples themselves scatter: nine of 1, 2, 1, 2 ... have a negative correlation, so all count. */
    @Test
    void aSingleCycleIsAsUncertainAsItsSamples() {
        double[] y = new double[9];
        for (int i = 0; i < 9; i++) {
            y[i] = 1 + i % 2;
        }

        Measured one = Cycles.in(9, 400, 50).measuredMean(y, Unit.VOLT);

        assertEquals(1.5, one.value(), ROUNDING);
        // five of 1 and four of 2: variance 20/9/8
        assertEquals(Math.sqrt(20.0 / 9 / 8 / 9), one.randomU(), ROUNDING);
        assertEquals(8, one.randomDof(), ROUNDING);
    }

    /** Two cycles of 1 V and 3 V: the mean 2 V, and a scatter of √2 V over √2. */
    @Test
    void twoCyclesScatterOnTheirOwn() {
        double[] y = new double[17];
        for (int i = 0; i < 17; i++) {
            y[i] = i < 8 ? 1 : i == 8 ? 2 : 3;
        }

        Measured two = Cycles.in(17, 400, 50).measuredMean(y, Unit.VOLT);

        // the straight line from 1 V at sample 7 over 2 V to 3 V at 9 puts half a volt-sample either way
        double lowV = 1 + 0.5 / 8;
        double highV = 3 - 0.5 / 8;
        assertEquals(2, two.value(), ROUNDING);
        assertEquals((highV - lowV) / 2, two.randomU(), ROUNDING);
        assertEquals(1, two.randomDof(), ROUNDING);
    }
}
