package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.signal.Ripple.Plausibility;

/** Ripple of few samples, worked by hand; eight samples a cycle. */
class RippleFewCyclesTest {
    private static Ripple of(double... samplesV) {
        return Ripple.of(samplesV, Cycles.in(samplesV.length, 400, 50));
    }

    /** Of sixteen samples the highest and the lowest are left out: seven of 7 V and seven of 3 V stay, 2 V about 5 V. */
    @Test
    void ofTwoCyclesTheHighestAndTheLowestSampleAreLeftOut() {
        double[] v = {7, 3, 7, 3, 100, 3, 7, 3, 7, 3, 7, -50, 7, 3, 7, 3, 1e6};

        Ripple found = of(v);

        assertEquals(4, found.pp().value(), 1e-12);
        // 150 V in all: what the two would change is a rectangle's full width
        assertEquals(146 / Math.sqrt(12), found.pp().randomU(), 1e-9);
        assertEquals(150, found.extremesPpV(), 1e-12);
        assertEquals(2, found.rms().value(), 1e-12);
        assertEquals(1, found.pp().randomDof(), 0);
    }

    /** Cycles of 4, 6 and 5 V peak to peak: the median 5 V, its deviation 1.4826 · 1 V, √(π/2) of that over √3. */
    @Test
    void ofThreeCyclesTheMedianCounts() {
        double[] v = new double[25];
        double[] pp = {4, 6, 5, 0};
        for (int i = 0; i < v.length; i++) {
            v[i] = 10 + (i % 2 == 0 ? 0.5 : -0.5) * pp[i / 8];
        }

        Ripple found = of(v);

        assertEquals(5, found.pp().value(), 1e-12);
        assertEquals(6, found.extremesPpV(), 1e-12);
        assertEquals(1.2533 * 1.4826 / Math.sqrt(3), found.pp().randomU(), 1e-12);
        assertEquals(2, found.pp().randomDof(), 1e-12);
    }

    /** Sixteen cycles of 1 to 16 V rise steadily, and so are worth far fewer. */
    @Test
    void cyclesThatHangTogetherAreWorthFewer() {
        double[] v = new double[8 * 16 + 1];
        double[] pp = new double[17];
        for (int i = 0; i < 16; i++) {
            pp[i] = i + 1;
        }
        for (int i = 0; i < v.length; i++) {
            v[i] = (i % 2 == 0 ? 0.5 : -0.5) * pp[i / 8];
        }

        Measured found = of(v).pp();

        // correlation of 1 ... n from one to the next: products 276.25 over squares 340 about the middle 8.5
        double worth = 16 * (1 - 276.25 / 340) / (1 + 276.25 / 340);
        assertEquals(8.5, found.value(), 1e-12);
        assertEquals(1.2533 * 1.4826 * 4 / Math.sqrt(worth), found.randomU(), 1e-9);
        assertEquals(Math.max(1, worth - 1), found.randomDof(), 1e-9);
    }

    /** Between a reservoir's 3.0 and a sawtooth's 3.47, both included; extremes up to one and a half times as high. */
    @ParameterizedTest(name = "{0} V peak to peak, {1} V rms, extremes {2} V")
    @CsvSource({
        "3, 1, 3, RESERVOIR_LIKE",
        "2.99, 1, 3, BLUNT",
        "3.47, 1, 3.47, RESERVOIR_LIKE",
        "3.48, 1, 3.48, SPIKY",
        "3.2, 1, 4.8, RESERVOIR_LIKE",
        "3.25, 1, 4.9, STRAY_PEAKS",
        "0, 1, 0, NO_RIPPLE",
        "1, 0, 1, NO_RIPPLE"
    })
    void theShapeIsToldByTheRatioOfItsFigures(double ppV, double rmsV, double extremesV, Plausibility expected) {
        assertEquals(expected, ripple(ppV, rmsV, extremesV, 12).plausibility());
    }

    @Test
    void theRippleFactorIsOfTheMagnitude() {
        assertEquals(0.01, ripple(0.3, 0.12, 0.3, 12).factorRatio(), 1e-15);
        assertEquals(0.01, ripple(0.3, 0.12, 0.3, -12).factorRatio(), 1e-15);
        assertEquals(
                "magnitude of the mean must be finite and above zero, got 0.0",
                Refusal.of(() -> ripple(0.3, 0.12, 0.3, 0).factorRatio()));
    }

    private static Ripple ripple(double ppV, double rmsV, double extremesPpV, double meanV) {
        return new Ripple(Measured.of(ppV, 0, Unit.VOLT), Measured.of(rmsV, 0, Unit.VOLT), extremesPpV, meanV);
    }
}
