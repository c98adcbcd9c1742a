package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.signal.Ripple.Plausibility;

class RippleTest {
    private static final double RATE_HZ = 20_000;
    private static final double LINE_HZ = 50;
    /** Half a sample on either side of a peak, 200 samples per ripple period: 1 % of a sawtooth, less of the others. */
    private static final double SAMPLING_RATIO = 0.011;

    /** Peak to peak over rms: sawtooth 2 sqrt 3 and square 2 (a supply maker's handbook), sine 2 sqrt 2. */
    @Test
    void shapesHaveTheirTextbookRatio() {
        Ripple saw = ripple(x -> 12 + 0.5 * (0.5 - x));
        Ripple sine = ripple(x -> 12 + 0.25 * Math.sin(2 * Math.PI * x));
        Ripple square = ripple(x -> 12 + (x < 0.5 ? 0.25 : -0.25));
        Ripple triangle = ripple(x -> 12 + 0.5 * (Math.abs(2 * x - 1) - 0.5));

        for (Ripple r : new Ripple[] {saw, sine, square, triangle}) {
            assertEquals(0.5, r.pp().value(), SAMPLING_RATIO * 0.5);
            assertEquals(12, r.meanV(), 0.003);
        }
        assertEquals(2 * Math.sqrt(3), 0.5 / saw.rms().value(), 0.05);
        assertEquals(2 * Math.sqrt(3), 0.5 / triangle.rms().value(), 0.01);
        assertEquals(2 * Math.sqrt(2), 0.5 / sine.rms().value(), 0.003);
        assertEquals(2, 0.5 / square.rms().value(), 0.02);
        assertEquals(Plausibility.RESERVOIR_LIKE, saw.plausibility());
        assertEquals(Plausibility.BLUNT, sine.plausibility());
        assertEquals(Plausibility.BLUNT, square.plausibility());
        assertEquals(Plausibility.NO_RIPPLE, ripple(x -> 12).plausibility());
        assertEquals(Plausibility.SPIKY, ripple(x -> x < 0.03 ? 13 : 12).plausibility());
    }

    /**
     * The exact ideal capacitor-input rectifier (no source resistance), whose figures were computed independently with
     * 60-digit decimals: per p (1 half, 2 full wave) and omega R C: Vpp/Vm, Vdc/Vm, Vrms/Vdc.
     */
    @ParameterizedTest
    @CsvSource({
        "1, 5, .63142, .66618, .29252",
        "1, 10, .41095, .79059, .15649",
        "1, 20, .24222, .87884, .08178",
        "1, 50, .10954, .94569, .03399",
        "1, 100, .05764, .97145, .01733",
        "1, 500, .01218, .99395, .00355",
        "2, 5, .35278, .83564, .13132",
        "2, 10, .21520, .89815, .07283",
        "2, 20, .12262, .94127, .03898",
        "2, 50, .05446, .97358, .01651",
        "2, 100, .02855, .98604, .00849",
        "2, 500, .00604, .99701, .00176"
    })
    void measuresAnIdealReservoir(int p, double wrc, double pp, double dc, double factor) {
        int perCycle = 20_000;
        double[] y = new double[3 * perCycle + 2];
        double v = 1;
        for (int i = -perCycle; i < y.length; i++) {
            double wave = Math.cos(2 * Math.PI * i / perCycle);
            // exact: between samples the capacitor discharges exponentially unless the wave is higher
            v = Math.max(v * Math.exp(-2 * Math.PI / perCycle / wrc), p == 2 ? Math.abs(wave) : wave);
            if (i >= 0) {
                y[i] = v;
            }
        }
        Ripple found = Ripple.of(y, Cycles.in(y.length, perCycle * LINE_HZ, LINE_HZ));

        assertEquals(pp, found.pp().value(), 1e-4);
        assertEquals(dc, found.meanV(), 1e-4);
        assertEquals(factor, found.factorRatio(), 1e-4);
        assertEquals(Plausibility.RESERVOIR_LIKE, found.plausibility());
        // a supply maker's handbook: the r.m.s. value is usually between a third and a quarter of peak to peak
        double share = found.rms().value() / found.pp().value();
        assertTrue(share > 0.25 && share < 1 / 3.0, "rms over pp " + share);
    }

    /** One bad sample anywhere, however large, does not move the result, but stands in the extremes. Seeds printed. */
    @Test
    void oneBadSampleDoesNotFailAGoodSupply() {
        double[] good = wave(10, x -> 12 + 0.02 * (0.5 - x));
        Ripple clean = ripple(good, 10);
        for (long seed = 1; seed <= 200; seed++) {
            Random random = new Random(seed);
            double[] bad = good.clone();
            bad[random.nextInt(bad.length - 2)] += (random.nextBoolean() ? 1 : -1) * (1 + 9 * random.nextDouble());
            Ripple found = ripple(bad, 10);

            assertEquals(clean.pp().value(), found.pp().value(), 1e-6, "seed " + seed);
            assertEquals(clean.rms().value(), found.rms().value(), 1e-6, "seed " + seed);
            assertTrue(found.extremesPpV() > 0.9, "seed " + seed);
            assertEquals(Plausibility.STRAY_PEAKS, found.plausibility(), "seed " + seed);
        }
    }

    @Test
    void oneBadSampleIsLeftOutOfAShortRecordToo() {
        double[] y = wave(2, x -> 12 + 0.02 * (0.5 - x));
        double clean = ripple(y, 2).pp().value();
        y[123] = 30;

        assertEquals(clean, ripple(y, 2).pp().value(), 0.02 * clean);
        assertEquals(18.01, ripple(y, 2).extremesPpV(), 0.01);
    }

    /** A notch in each trough (drop-out at low line) is in every cycle and is counted in full. */
    @Test
    void dropOutNotchesAreCounted() {
        assertEquals(0.5, ripple(x -> x > 0.95 ? 11.5 : 12).pp().value(), 1e-9);
    }

    /** Drift of 20 mV over the record is not ripple: below 20 Hz it is drift, by custom. */
    @Test
    void driftIsNotRipple() {
        double[] y = wave(10, x -> 12 + 0.02 * (0.5 - x));
        double clean = ripple(y, 10).pp().value();
        for (int i = 0; i < y.length; i++) {
            y[i] += 0.02 * i / y.length;
        }

        // a tenth of the drift falls into each cycle
        assertEquals(clean, ripple(y, 10).pp().value(), 0.0021);
    }

    /** Shift, scale and turning round change nothing but in the obvious way. Seeds printed. */
    @Test
    void shiftScaleAndSignBehave() {
        for (long seed = 1; seed <= 50; seed++) {
            Random random = new Random(seed);
            double[] y = random.doubles(4002, -0.01, 0.01).toArray();
            double scale = 0.1 + 10 * random.nextDouble();
            double shift = 200 * random.nextDouble();
            double[] changed = new double[y.length];
            for (int i = 0; i < y.length; i++) {
                changed[i] = shift - scale * y[i];
            }
            Ripple a = ripple(y, 10);
            Ripple b = ripple(changed, 10);

            assertEquals(scale * a.pp().value(), b.pp().value(), 1e-11, "seed " + seed);
            assertEquals(scale * a.rms().value(), b.rms().value(), 1e-11, "seed " + seed);
            assertEquals(shift - scale * a.meanV(), b.meanV(), 1e-11, "seed " + seed);
        }
    }

    private static Ripple ripple(DoubleUnaryOperator shape) {
        return ripple(wave(10, shape), 10);
    }

    private static Ripple ripple(double[] y, int cycles) {
        Cycles window = Cycles.in(y.length, RATE_HZ, LINE_HZ);
        assertEquals(cycles, window.count());
        return Ripple.of(y, window);
    }

    /** Line cycles of a wave that runs twice per line cycle; the shape takes the place in the period, 0 to 1. */
    private static double[] wave(int cycles, DoubleUnaryOperator shape) {
        double[] y = new double[(int) (cycles * RATE_HZ / LINE_HZ) + 2];
        for (int i = 0; i < y.length; i++) {
            double place = 2 * LINE_HZ * i / RATE_HZ + 1e-9;
            y[i] = shape.applyAsDouble(place - Math.floor(place));
        }
        return y;
    }
}
