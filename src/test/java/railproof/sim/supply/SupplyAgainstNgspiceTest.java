package railproof.sim.supply;

import static java.lang.System.Logger.Level.INFO;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.sim.Node;
import railproof.sim.Plant;

/**
 * The whole supply, mains to output, against ngspice on the same circuit: healthy over load and line, and every entry
 * of the fault dictionary.
 *
 * <p>Asked of the simulator: means 2 % healthy, 3 % faulty; peak-to-peak 5 % healthy, 10 % faulty; harmonics 1 dB.
 * It does better, and the tests hold it to that: means 0.3 % (worst seen 0.11 %), peak-to-peak 5 % (worst 2.5 %). Both programs start from empty capacitors at the same phase and look at the same span, so
 * that what has not settled yet is equally unsettled in both.
 */
@Tag("ngspice")
final class SupplyAgainstNgspiceTest {
    private static final System.Logger LOG = System.getLogger(SupplyAgainstNgspiceTest.class.getName());
    private static final double START_S = 0.6;
    private static final double STOP_S = 1.0;
    private static final int SAMPLES = 20_000;
    private static final int CYCLES = 24;
    static final Node[] NODES = {Node.RAW, Node.OUTPUT, Node.BASE, Node.REFERENCE, Node.SENSE_TAP};
    private static final String[] MEANS = {"raw_mean", "out_mean", "base_mean", "ref_mean", "tap_mean"};

    private static final double MEAN_RATIO = 0.003;
    private static final double RIPPLE_RATIO = 0.05;

    /**
     * Below this the two integrators' own grain shows: ngspice prints extremes of points 20 µs apart to seven digits
     * of a 20 V node and solves it to a relative tolerance of 1e-4, 2 mV at its worst.
     */
    private static final double RIPPLE_FLOOR_V = 1e-3;

    private static final double OUTPUT_RIPPLE_FLOOR_V = 5e-5;

    static Ngspice reference(Map<String, String> parameters) {
        return Ngspice.run("supply.cir", parameters, Map.of("start", "0.6", "stop", "1.0", "extra", ""));
    }

    private static Observed[] ours(double lineRatio, double loadA, List<PlacedFault> faults) {
        Plant plant = Bench.supply().build(Bench.AT_27_C, faults);
        plant.line(115 * lineRatio, 60);
        plant.load(0, voltageV -> loadA * Math.min(1, voltageV / 0.6));
        plant.advanceTo(START_S);
        return Observed.of(plant, 0, NODES, STOP_S - START_S, SAMPLES);
    }

    /** Holds means and peak-to-peak values of {@link #NODES} to the reference. */
    static void compare(Ngspice reference, Observed[] ours) {
        for (int i = 0; i < NODES.length; i++) {
            double expectedV = reference.value(MEANS[i]);
            // 10 µV: a tap cut off from the output holds microvolts of leakage, not worth a ratio
            assertEquals(expectedV, ours[i].meanV(), MEAN_RATIO * Math.abs(expectedV) + 1e-5, MEANS[i]);
        }
        double rawRippleV = reference.value("raw_max") - reference.value("raw_min");
        double outRippleV = reference.value("out_max") - reference.value("out_min");
        assertEquals(rawRippleV, ours[0].rippleV(), RIPPLE_RATIO * rawRippleV + RIPPLE_FLOOR_V, "raw ripple");
        assertEquals(outRippleV, ours[1].rippleV(), RIPPLE_RATIO * outRippleV + OUTPUT_RIPPLE_FLOOR_V, "out ripple");
        report(reference, ours, rawRippleV, outRippleV);
    }

    private static void report(Ngspice reference, Observed[] ours, double rawRippleV, double outRippleV) {
        StringBuilder line = new StringBuilder("against ngspice:");
        for (int i = 0; i < NODES.length; i++) {
            double expectedV = reference.value(MEANS[i]);
            line.append(String.format(
                    Locale.ROOT, " %s %.5g %+.3f%%", NODES[i], expectedV, 100 * (ours[i].meanV() / expectedV - 1)));
        }
        line.append(String.format(
                Locale.ROOT,
                " raw pp %.4g %+.2f%% out pp %.4g %+.2f%%",
                rawRippleV,
                100 * (ours[0].rippleV() / rawRippleV - 1),
                outRippleV,
                100 * (ours[1].rippleV() / outRippleV - 1)));
        LOG.log(INFO, line);
    }

    @ParameterizedTest
    @CsvSource({
        "0.85, 0",
        "0.85, 0.5",
        "0.85, 1",
        "0.85, 2",
        "1, 0",
        "1, 0.02",
        "1, 0.5",
        "1, 1",
        "1, 1.5",
        "1, 2",
        "1, 3.5", // more than the limit: a constant-current load holds the output down
        "1.15, 0",
        "1.15, 0.5",
        "1.15, 1",
        "1.15, 2"
    })
    void healthySupplyAgreesOverLoadAndLine(double lineRatio, double loadA) {
        Ngspice reference =
                reference(Map.of("secondary", String.valueOf(16.5 * lineRatio), "amps", String.valueOf(loadA)));

        Observed[] ours = ours(lineRatio, loadA, List.of());

        compare(reference, ours);
        harmonicsAgree(reference, ours, 2, CYCLES);
    }

    /**
     * Holds the spectrum of raw and output to 1 dB.
     *
     * @param lowest lowest harmonic of the line, and the spacing of those that are there
     * @param cycles line cycles in the span watched
     */
    static void harmonicsAgree(Ngspice reference, Observed[] ours, int lowest, int cycles) {
        for (int vector = 0; vector < 2; vector++) {
            double strongestV = reference.harmonicV(vector, lowest);
            for (int order = lowest; order <= 8; order += lowest) {
                double expectedV = reference.harmonicV(vector, order);
                if (expectedV < 0.02 * strongestV) {
                    continue; // 34 dB below the strongest line: of no use to anybody and below ngspice's own grain
                }
                double differenceDb = 20 * Math.log10(ours[vector].amplitudeV(order * cycles) / expectedV);
                assertEquals(0, differenceDb, 1, vector + " harmonic " + order);
            }
        }
    }

    @Test
    void windingCurrentAgrees() {
        Ngspice reference = reference(Map.of("amps", "2"));
        Plant plant = Bench.supply().build(Bench.AT_27_C);
        plant.line(115, 60);
        plant.load(0, voltageV -> 2 * Math.min(1, voltageV / 0.6));
        plant.advanceTo(1);

        double expectedA = reference.value("winding_rms") * 16.5 / 115;
        assertEquals(expectedA, plant.lineCurrentA(), 0.02 * expectedA);
    }

    @Test
    void holdUpAgrees() {
        // as the published worked case: 1 A, line taken away at a rising zero, time until the output is 5 % down
        Ngspice reference = Ngspice.run(
                "supply.cir",
                Map.of("off", "0.6"),
                Map.of(
                        "start",
                        "0.5",
                        "stop",
                        "0.7",
                        "extra",
                        """
                        meas tran at_off FIND v(out) AT=0.6
                        let low=0.95*at_off
                        meas tran gone_s WHEN v(out)=low FALL=1 from=0.6 to=0.7
                        meas tran raw_gone FIND v(raw) WHEN v(out)=low FALL=1 from=0.6 to=0.7"""));
        Plant plant = Bench.supply().build(Bench.AT_27_C);
        plant.line(115, 60);
        plant.load(0, voltageV -> Math.min(1, voltageV / 0.6));
        plant.advanceTo(0.6);
        double lowV = 0.95 * plant.voltageV(0, Node.OUTPUT);
        plant.line(0, 60);
        while (plant.voltageV(0, Node.OUTPUT) > lowV) {
            plant.advanceTo(plant.timeS() + 1e-5);
        }

        double holdUpS = plant.timeS() - 0.6;
        double expectedS = reference.value("gone_s") - 0.6;
        LOG.log(INFO, "hold-up {0} s, ngspice {1} s", holdUpS, expectedS);
        assertEquals(expectedS, holdUpS, 0.01 * expectedS);
        assertEquals(reference.value("raw_gone"), plant.voltageV(0, Node.RAW), 0.01 * reference.value("raw_gone"));
        // C (V1 - V2) / I with the simulated voltages of the published case: 41.5 ms
        assertTrue(Math.abs(holdUpS - 0.0415) < 0.03 * 0.0415, "hold-up " + holdUpS);
    }

    @ParameterizedTest
    @CsvSource({
        "low-line, secondary=14.025",
        "open-rectifier-diode, diode2=1e9",
        "reservoir-low-capacitance, reservoir=3400u",
        "reservoir-low-capacitance:0.9, reservoir=680u",
        "reservoir-high-esr, reservoiresr=1",
        "secondary-joint-resistance, winding=1.3",
        "pass-transistor-short, passleak=0.02",
        "pass-transistor-open, passcol=1e9",
        "driver-open, drivercol=1e9",
        "driver-low-gain, drivergain=10",
        "reference-short, refshort=1",
        "reference-open, refseries=1e9",
        "error-transistor-open, errcol=1e9",
        "error-transistor-short, errshort=1",
        "divider-upper-open, upper=1e9",
        "divider-lower-open, lower=1e9",
        "divider-upper-high, upper=2200",
        "sense-resistor-high, sense=0.54",
        "limit-transistor-short, limshort=1",
        "limit-transistor-open, limcol=1e9",
        "base-feed-high, feed=22k",
        "wrong-transformer-tap, secondary=18.975",
        "leaky-reservoir, resleak=38.4",
        "swollen-output-capacitor, outcap=52.8u outesr=6.48"
    })
    void faultySupplyAgreesAtFourLoads(String fault, String changes) {
        for (double loadA : new double[] {0.02, 1, 2, 3.5}) {
            Map<String, String> parameters = new HashMap<>();
            for (String change : changes.split(" ", -1)) {
                parameters.put(change.substring(0, change.indexOf('=')), change.substring(change.indexOf('=') + 1));
            }
            parameters.put("amps", String.valueOf(loadA));

            LOG.log(INFO, "{0} at {1} A", fault, loadA);
            compare(reference(parameters), ours(1, loadA, List.of(PlacedFault.parse(fault))));
        }
    }
}
