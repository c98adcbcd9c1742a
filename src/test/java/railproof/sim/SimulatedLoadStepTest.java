package railproof.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.sim.device.AdcChannel;
import railproof.sim.device.LoadAccuracy;
import railproof.sim.device.LoadRatings;
import railproof.sim.device.SimulatedLoad;
import railproof.sim.supply.SimulatedUnits;
import railproof.sim.supply.Surroundings;

/**
 * A load step as the board on the bench sees it, against the same supply driven directly along the load's exact course.
 */
final class SimulatedLoadStepTest {
    private static final double FULL_SCALE_A = 10;
    private static final double MINIMUM_V = 0.5;
    /** The board's own scans, so that the bench must find its steps by itself in between. */
    private static final double SCAN_S = 10e-6;

    private static final int SCANS = 150;
    private static final double START_S = 0.5;

    private static Plant unit() {
        Plant plant = SimulatedUnits.named("bench-12v").build(Surroundings.standard(1));
        plant.line(115, 60);
        return plant;
    }

    private static LoadCharacteristic sink(double levelA) {
        return voltageV -> Math.max(0, Math.min(levelA, voltageV * FULL_SCALE_A / MINIMUM_V));
    }

    /** Output at every scan after a step, driven through the load's command set. */
    private static double[] throughTheBench(double fromA, double toA, double riseS, double lagS) {
        LoadRatings ratings = new LoadRatings(FULL_SCALE_A, 60, 150, MINIMUM_V, 50_000, riseS, lagS, 1e-3, 0);
        SimulatedLoad load = new SimulatedLoad(ratings, LoadAccuracy.IDEAL, 1);
        BenchPlan plan = new BenchPlan(
                Map.of(0, new BenchPlan.NodeTap(0, Node.OUTPUT)),
                List.of(AdcChannel.ideal("output", -20, 20)),
                Map.of("load", new BenchPlan.LoadPlan(0, 0, ratings, LoadAccuracy.IDEAL)),
                0,
                false,
                1);
        SimulatedWorld world = new SimulatedWorld(unit(), plan, Map.of("load", load), null, 60);
        world.turnLineTo(115);
        world.loadEnable(true);
        tell(load, "SYST:REM\nCURR %.3f\nINP 1\n", fromA);
        world.advanceTo(START_S);
        tell(load, "CURR %.3f\n", toA);
        double[] outV = new double[SCANS];
        for (int scan = 0; scan < SCANS; scan++) {
            world.advanceTo(START_S + (scan + 1) * SCAN_S);
            outV[scan] = world.voltageV(0);
        }
        return outV;
    }

    private static void tell(SimulatedLoad load, String words, double level) {
        load.receive(String.format(Locale.ROOT, words, level).getBytes(StandardCharsets.US_ASCII), reply -> {});
    }

    /** The same, with the level worked out here every tenth of a microsecond. */
    private static double[] directly(double fromA, double toA, double riseS, double lagS) {
        double stepS = SCAN_S / 100;
        double slewAPerS = FULL_SCALE_A / riseS;
        double straightS = Math.max(0, Math.abs(toA - fromA) / slewAPerS - lagS);
        double bendA = fromA + Math.signum(toA - fromA) * slewAPerS * straightS;
        Plant plant = unit();
        plant.load(0, sink(fromA));
        plant.advanceTo(START_S);
        double[] outV = new double[SCANS];
        for (int step = 0; step < SCANS * 100; step++) {
            double sinceS = (step + 0.5) * stepS;
            double levelA = sinceS < straightS
                    ? fromA + (bendA - fromA) * sinceS / straightS
                    : toA - (toA - bendA) * Math.exp(-(sinceS - straightS) / lagS);
            if (sinceS < straightS + 15 * lagS) {
                plant.load(0, sink(levelA));
            }
            plant.advanceTo(START_S + (step + 1) * stepS);
            outV[step / 100] = plant.voltageV(0, Node.OUTPUT);
        }
        return outV;
    }

    @ParameterizedTest
    @CsvSource({
        // from, A; to, A; full-scale slew, µs; lag, µs
        "0.3, 1.8, 60, 4",
        "1.8, 0.3, 60, 4",
        "0.3, 1.8, 200, 100",
        "0.1, 0.9, 1000, 10",
        "0.3, 1.8, 10, 1",
        "1.8, 0.3, 10, 1"
    })
    void whatTheBoardSeesIsWhatTheSupplyDoes(double fromA, double toA, double riseUs, double lagUs) {
        double[] seenV = throughTheBench(fromA, toA, riseUs * 1e-6, lagUs * 1e-6);
        double[] expectedV = directly(fromA, toA, riseUs * 1e-6, lagUs * 1e-6);

        double rangeV = Arrays.stream(expectedV).max().getAsDouble()
                - Arrays.stream(expectedV).min().getAsDouble();
        // seen: 1.2 % at worst; 3 % leaves room for the phase at which the integrator's steps happen to fall
        for (int scan = 0; scan < SCANS; scan++) {
            assertEquals(expectedV[scan], seenV[scan], 0.03 * rangeV, "scan " + scan);
        }
    }
}
