package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.Unit;

class CyclesTest {
    /** |sin(pi f T) / (pi f T)|, computed independently; printed to 0.1 dB. */
    @ParameterizedTest
    @CsvSource({
        "0.0166666667, 50, -14.4",
        "0.0166666667, 100, -15.6",
        "0.020, 60, -16.1",
        "0.020, 120, -18.0",
        "0.0167, 60, -54"
    })
    void windowRejectsWhatTheFormulaSays(double windowS, double frequencyHz, double decibels) {
        double found = 20 * Math.log10(Cycles.rejectionRatio(frequencyHz, windowS));
        assertEquals(decibels, found, decibels < -50 ? 0.5 : 0.1);
    }

    @Test
    void hundredMillisecondsRejectBothLines() {
        for (double f : new double[] {50, 60, 100, 120}) {
            assertTrue(Cycles.rejectionRatio(f, 0.1) < 1e-12, "at " + f);
        }
        assertEquals(1, Cycles.rejectionRatio(0, 0.1), 0);
    }

    /**
     * Any line frequency, any phase, a record that is no whole number of cycles: the mean of d.c. plus ripple is the
     * d.c. Budget: 2 A / m² by the straight-line end, m samples per ripple cycle, as the class says.
     */
    @Test
    void meanIsFreeOfRippleWhereverTheRecordStarts() {
        for (long seed = 1; seed <= 300; seed++) {
            Random random = new Random(seed);
            double lineHz = 49 + 12 * random.nextDouble();
            double rateHz = 2000 + 8000 * random.nextDouble();
            double phase = 2 * Math.PI * random.nextDouble();
            double[] y = sine(700 + random.nextInt(3000), rateHz, 2 * lineHz, 12, 0.5, phase);
            Cycles window = Cycles.in(y.length, rateHz, lineHz);
            double perRipple = rateHz / (2 * lineHz);

            assertEquals(12, window.mean(y), 2 * 0.5 / (perRipple * perRipple), "seed " + seed);
            // rms: of the straight line between samples instead of the sine, relative pi^2 / (6 m^2) at most, doubled
            double share = 2 * Math.PI * Math.PI / 6 / (perRipple * perRipple) * 4;
            assertEquals(0.5 / Math.sqrt(2), window.acRms(y), share * 0.5, "seed " + seed);
            assertEquals(Math.sqrt(144 + 0.125), window.rms(y), 2 * share * 0.5, "seed " + seed);
        }
    }

    /** The plain mean of the same record is off by far more: this is what whole cycles are for. */
    @Test
    void plainMeanOfACutRecordIsBiased() {
        double[] y = sine(1050, 10_000, 100, 12, 0.5, 0);

        assertTrue(Math.abs(Statistics.mean(y) - 12) > 0.01);
        assertEquals(12, Cycles.in(y.length, 10_000, 50).mean(y), 1e-4);
    }

    @Test
    void exactRecordOfNCyclesHoldsNCycles() {
        assertEquals(5, Cycles.in(1001, 10_000, 50).count());
        assertEquals(4, Cycles.in(1000, 10_000, 50).count());
        assertEquals(0.1, Cycles.in(1001, 10_000, 50).windowS(), 1e-12);
        assertEquals(2, Cycles.in(1001, 10_000, 50).atMost(2).count());
    }

    @Test
    void meanCarriesTheScatterOfItsCycles() {
        double[] y = sine(2001, 10_000, 50, 5, 1, 0.3);
        for (int i = 0; i < y.length; i++) {
            // each second cycle stands 2 mV higher
            y[i] += i / 200 % 2 == 1 ? 0.002 : 0;
        }
        var found = Cycles.in(y.length, 10_000, 50).measuredMean(y, Unit.VOLT);

        assertEquals(5.001, found.value(), 2e-5);
        assertEquals(0.001 * Math.sqrt(10 / 9.0) / Math.sqrt(10), found.randomU(), 2e-5);
        assertEquals(9, found.randomDof(), 1e-9);
    }

    @Test
    void refusesWhatHoldsNoCycle() {
        assertThrows(IllegalArgumentException.class, () -> Cycles.in(199, 10_000, 50));
        assertThrows(IllegalArgumentException.class, () -> Cycles.in(5000, 300, 50));
        assertThrows(IllegalArgumentException.class, () -> Cycles.in(5000, 10_000, 0));
        Cycles window = Cycles.in(1001, 10_000, 50);
        assertThrows(IllegalArgumentException.class, () -> window.mean(new double[900]));
    }

    static double[] sine(int n, double rateHz, double frequencyHz, double dc, double amplitude, double phase) {
        double[] y = new double[n];
        for (int i = 0; i < n; i++) {
            y[i] = dc + amplitude * Math.sin(2 * Math.PI * frequencyHz * i / rateHz + phase);
        }
        return y;
    }
}
