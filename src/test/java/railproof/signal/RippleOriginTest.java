package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

class RippleOriginTest {
    private static final double RATE_HZ = 20_000;
    private static final double LINE_HZ = 50.02;

    private static List<RippleOrigin> origins(double noiseV, DoubleUnaryOperator ofTime) {
        Random random = new Random(5);
        double[] y = new double[8000];
        for (int i = 0; i < y.length; i++) {
            y[i] = 12 + ofTime.applyAsDouble(i / RATE_HZ) + noiseV * random.nextGaussian();
        }
        return RippleOrigin.of(LineSpectrum.of(y, RATE_HZ, LINE_HZ), LINE_HZ, 0.001);
    }

    private static List<RippleOrigin.Kind> kinds(double noiseV, DoubleUnaryOperator ofTime) {
        return origins(noiseV, ofTime).stream().map(RippleOrigin::kind).toList();
    }

    private static double sine(double frequencyHz, double t) {
        return Math.sin(2 * Math.PI * frequencyHz * t + 0.4);
    }

    /** A fall from +1/2 to -1/2. */
    private static double sawtooth(double frequencyHz, double t) {
        return 0.5 - frequencyHz * t % 1;
    }

    @Test
    void aSineOfTheLineIsHum() {
        List<RippleOrigin> found = origins(1e-5, t -> 0.02 * sine(LINE_HZ, t));

        assertEquals(RippleOrigin.Kind.HUM, found.get(0).kind());
        assertEquals(0.02 / Math.sqrt(2), found.get(0).rmsV(), 1e-5);
        assertEquals(LINE_HZ, found.get(0).frequencyHz(), 0);
        assertEquals(1, found.size());
    }

    /** The first two amplitudes of a bridge with one diode open, and with all, as a circuit simulator has them. */
    @Test
    void oneDiodeOpenIsAOneWayRectifier() {
        assertEquals(
                List.of(RippleOrigin.Kind.ONE_WAY_RECTIFIER),
                kinds(1e-5, t -> 1.1323 * sine(LINE_HZ, t) + 0.5246 * sine(2 * LINE_HZ, t)));
        assertEquals(
                RippleOrigin.Kind.ONE_WAY_RECTIFIER,
                kinds(1e-5, t -> 0.1 * sawtooth(LINE_HZ, t)).get(0));
    }

    @Test
    void aSawtoothAtTwiceTheLineIsATwoWayRectifier() {
        List<RippleOrigin> found = origins(1e-5, t -> 0.1 * sawtooth(2 * LINE_HZ, t));

        assertEquals(RippleOrigin.Kind.TWO_WAY_RECTIFIER, found.get(0).kind());
        assertEquals(2 * LINE_HZ, found.get(0).frequencyHz(), 0);
        // ten harmonics of twice the line hold this part of a sawtooth's power: (6/pi^2) sum of 1/n^2, n to 10
        assertEquals(
                0.1 / Math.sqrt(12) * Math.sqrt(0.607927 * 1.549768),
                found.get(0).rmsV(),
                1e-4);
    }

    @Test
    void unequalHalvesAreToldFromEqualOnes() {
        assertEquals(
                RippleOrigin.Kind.UNBALANCED_RECTIFIER,
                kinds(1e-5, t -> 0.1 * sawtooth(2 * LINE_HZ, t) + 0.01 * sine(LINE_HZ, t))
                        .get(0));
        assertEquals(
                RippleOrigin.Kind.TWO_WAY_RECTIFIER,
                kinds(1e-5, t -> 0.1 * sawtooth(2 * LINE_HZ, t) + 0.002 * sine(LINE_HZ, t))
                        .get(0));
    }

    @Test
    void anOscillationStandsOutOfNoiseAndRipple() {
        List<RippleOrigin> found = origins(0.002, t -> 0.01 * sine(2 * LINE_HZ, t) + 0.03 * sine(3456.7, t));

        assertEquals(RippleOrigin.Kind.OSCILLATION, found.get(0).kind());
        // a twentieth of the spectrum's line spacing, as for any tone off the bins
        assertEquals(3456.7, found.get(0).frequencyHz(), 0.2);
        // noise of 2 mV leaves its share in the tone's few bins: below 1 %
        assertEquals(0.03 / Math.sqrt(2), found.get(0).rmsV(), 3e-4);
        assertEquals(RippleOrigin.Kind.TWO_WAY_RECTIFIER, found.get(1).kind());
    }

    @Test
    void noiseIsNoOscillation() {
        List<RippleOrigin> found = origins(0.01, t -> 0);

        assertEquals(RippleOrigin.Kind.NOISE, found.get(0).kind());
        // 8000 normal samples: sd known to 1 / sqrt(16000) = 0.8 %, three times that
        assertEquals(0.01, found.get(0).rmsV(), 0.00025);
        assertEquals(0, found.get(0).frequencyHz(), 0);
    }

    @Test
    void aQuietRailHasNothingToSay() {
        assertEquals(List.of(), kinds(1e-4, t -> 1e-4 * sine(LINE_HZ, t)));
        LineSpectrum quiet = LineSpectrum.of(new double[4000], RATE_HZ, LINE_HZ);
        assertThrows(IllegalArgumentException.class, () -> RippleOrigin.of(quiet, LINE_HZ, 0));
        assertThrows(IllegalArgumentException.class, () -> RippleOrigin.of(quiet, 0, 1));
    }
}
