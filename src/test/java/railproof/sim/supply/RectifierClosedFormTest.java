package railproof.sim.supply;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.sim.Node;
import railproof.sim.Plant;
import railproof.sim.supply.RectifierDesign.Kind;

/**
 * The rectifier against closed forms. Ideal diode, no source resistance: the diode lets go at
 * {@code th1 = atan(1/wRC)} after the crest and takes over where {@code cos(th1) exp(-(th2-th1)/wRC) = cos(th2-T)},
 * T being pi for full and two pi for half wave; textbook derivation, solved here by bisection. With source resistance
 * and a large capacitor {@code Vdc/Vm = cos(th)}, {@code tan(th)-th = pi Rs/(p R)}.
 */
final class RectifierClosedFormTest {
    private static final double PEAK_V = 1000;
    private static final double LOAD_OHM = 100;
    private static final double LINE_HZ = 50;
    private static final double OMEGA_PER_S = 2 * Math.PI * LINE_HZ;
    /** 0.1 % of the peak: asked of the simulator. The diode used here drops 7 mV, 0.0007 %. */
    private static final double TOLERANCE_RATIO = 1e-3;

    private static final DiodeModel NEAR_IDEAL = DiodeModel.rectifier(1e-9, 0.01, 0);

    /** A rail whose regulator is cut off, so that only the bleeder loads the reservoir. */
    private static Plant rectifier(Kind kind, double sourceOhm, double capacitanceF) {
        RailDesign bench = SimulatedUnits.named("bench-12v").rails().get(0);
        RailDesign rail = new RailDesign(
                "raw",
                false,
                PEAK_V / 10,
                PEAK_V / LOAD_OHM,
                new RectifierDesign(kind, PEAK_V / Math.sqrt(2), sourceOhm, 0, NEAR_IDEAL),
                new CapacitorDesign(capacitanceF, 0, LOAD_OHM),
                PassDesign.darlington(Parts.DRIVER, Parts.PASS, 1e12, 470),
                bench.limiter(),
                bench.reference(),
                bench.amplifier(),
                bench.output(),
                bench.thermal());
        return new UnitDesign("rectifier", "", PEAK_V / Math.sqrt(2), LINE_HZ, 0, 0, List.of(rail))
                .build(Bench.AT_27_C);
    }

    private static Observed settled(Kind kind, double sourceOhm, double omegaRc) {
        double capacitanceF = omegaRc / (OMEGA_PER_S * LOAD_OHM);
        Plant plant = rectifier(kind, sourceOhm, capacitanceF);
        plant.line(PEAK_V / Math.sqrt(2), LINE_HZ);
        plant.advanceTo(0.04 * Math.ceil(1 + 3 * omegaRc / (2 * Math.PI)));
        return Observed.of(plant, 0, Node.RAW, 0.04, 8000);
    }

    private static double root(DoubleUnaryOperator function, double from, double to) {
        double low = from;
        double high = to;
        boolean risingAtLow = function.applyAsDouble(low) > 0;
        for (int i = 0; i < 200; i++) {
            double middle = 0.5 * (low + high);
            if (function.applyAsDouble(middle) > 0 == risingAtLow) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return 0.5 * (low + high);
    }

    @ParameterizedTest
    @CsvSource({
        // p, wRC, and Vmin/Vm and Vdc/Vm as computed elsewhere from the same equation with 60 digits
        "1, 5, 0.36858, 0.66618", "2, 5, 0.64722, 0.83564",
        "1, 10, 0.58905, 0.79059", "2, 10, 0.78480, 0.89815",
        "1, 20, 0.75778, 0.87884", "2, 20, 0.87738, 0.94127",
        "1, 50, 0.89046, 0.94569", "2, 50, 0.94554, 0.97358",
        "1, 100, 0.94236, 0.97145", "2, 100, 0.97145, 0.98604",
        "1, 500, 0.98782, 0.99395", "2, 500, 0.99396, 0.99701"
    })
    void idealCapacitorInputAgreesWithTheExactSolution(
            int pulses, double omegaRc, double tabulatedMin, double tabulatedMean) {
        double offAngle = Math.atan(1 / omegaRc);
        double turn = 2 * Math.PI / pulses;
        double onAngle = root(
                angle -> Math.cos(offAngle) * Math.exp(-(angle - offAngle) / omegaRc) - Math.cos(angle - turn),
                turn - Math.PI / 2,
                turn);
        double least = Math.cos(onAngle - turn);
        double decayed = omegaRc * Math.cos(offAngle) * (1 - Math.exp(-(onAngle - offAngle) / omegaRc));
        double conducted = Math.sin(offAngle) - Math.sin(onAngle - turn);
        double mean = (decayed + conducted) / turn;
        assertEquals(tabulatedMin, least, 1e-5, "the equation is the tabulated one");
        assertEquals(tabulatedMean, mean, 1e-5, "the equation is the tabulated one");

        Observed raw = settled(pulses == 1 ? Kind.HALF_WAVE : Kind.CENTRE_TAP, 1e-4, omegaRc);

        assertEquals(mean, raw.meanV() / PEAK_V, TOLERANCE_RATIO, "mean");
        assertEquals(1 - least, raw.rippleV() / PEAK_V, TOLERANCE_RATIO, "peak to peak");
    }

    @ParameterizedTest
    @CsvSource({"1, 0.01", "1, 0.05", "1, 0.1", "2, 0.01", "2, 0.05", "2, 0.1", "2, 0.2"})
    void sourceResistanceLowersTheMeanAsTheLargeCapacitorLimitSays(int pulses, double resistanceRatio) {
        double angle = root(a -> Math.PI * resistanceRatio / pulses - Math.tan(a) + a, 1e-6, 1.5);

        Observed raw = settled(
                pulses == 1 ? Kind.HALF_WAVE : Kind.CENTRE_TAP, resistanceRatio * LOAD_OHM, pulses == 1 ? 400 : 200);

        // 0.1 % for the integration plus 0.1 % for a capacitor that is large but not infinite
        assertEquals(Math.cos(angle), raw.meanV() / PEAK_V, 2 * TOLERANCE_RATIO);
    }

    @Test
    void centreTapWithUnequalHalvesShowsTheLineFrequency() {
        // 2 % mismatch: V60/V120 = 0.34 in the outside simulation of an 18 V, 0.25 ohm, 4700 uF, 20 ohm circuit
        RailDesign bench = SimulatedUnits.named("bench-12v").rails().get(0);
        RailDesign rail = new RailDesign(
                "raw",
                false,
                12,
                1,
                new RectifierDesign(Kind.CENTRE_TAP, 18, 0.25, 0.02, Parts.RECTIFIER),
                new CapacitorDesign(4700e-6, 0, 20),
                PassDesign.darlington(Parts.DRIVER, Parts.PASS, 1e12, 470),
                bench.limiter(),
                bench.reference(),
                bench.amplifier(),
                bench.output(),
                bench.thermal());
        Plant plant = new UnitDesign("mismatch", "", 115, 60, 0, 0, List.of(rail)).build(Bench.AT_27_C);
        plant.line(115, 60);
        plant.advanceTo(1);

        Observed raw = Observed.of(plant, 0, Node.RAW, 0.1, 10_000);

        // values of that run, printed to seven digits: mean 22.47457 V, 60 Hz 0.203541 V, 120 Hz 0.59477 V
        assertEquals(22.4746, raw.meanV(), 0.005 * 22.4746);
        assertEquals(0.203541, raw.amplitudeV(6), 0.02 * 0.203541);
        assertEquals(0.59477, raw.amplitudeV(12), 0.02 * 0.59477);
    }
}
