package railproof.sim.supply;

import static java.lang.System.Logger.Level.INFO;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.sim.Node;
import railproof.sim.Plant;

/** Hours of burn-in: memory stays flat and nothing drifts away numerically. Takes minutes. */
@Tag("slow")
final class LongRunTest {
    private static final System.Logger LOG = System.getLogger(LongRunTest.class.getName());
    private static final double HOUR_S = 3600;

    /**
     * A whole day integrated step by step is asked for with {@code -Drailproof.simulatedHours=24}; it takes ten minutes
     * on a quiet machine. Memory that grows with time shows within an hour: that is a million and a half steps.
     */
    private static final int HOURS = Integer.getInteger("railproof.simulatedHours", 2);

    private static Plant started(boolean fastForward) {
        UnitDesign design = SimulatedUnits.named("tape-24v");
        Surroundings surroundings = Surroundings.standard(1);
        Plant plant = fastForward ? design.buildFastForward(surroundings, List.of()) : design.build(surroundings);
        plant.line(230, 50);
        plant.load(0, voltageV -> 2.4 * Math.min(1, voltageV / 0.6));
        return plant;
    }

    private static void staysFlat(Plant plant, int hours) {
        plant.advanceTo(HOUR_S);
        // after an hour the sink (540 s time constant) has been warm for long
        double warmV = Observed.of(plant, 0, Node.OUTPUT, 0.1, 1000).meanV();
        double warmC = plant.heatSinkC(0);
        long startBytes = usedBytes();
        for (int hour = 2; hour <= hours; hour++) {
            plant.advanceTo(hour * HOUR_S);
        }
        double endV = Observed.of(plant, 0, Node.OUTPUT, 0.1, 1000).meanV();
        long grownBytes = usedBytes() - startBytes;

        LOG.log(
                INFO,
                "output {0} V after 1 h, {1} V after {2} h; sink {3} C; {4} bytes more",
                warmV,
                endV,
                hours,
                plant.heatSinkC(0),
                grownBytes);
        assertEquals(warmV, endV, 1e-4 * 24);
        // the rest goes on a sink that had left 0.13 % of its rise
        assertEquals(warmC, plant.heatSinkC(0), 0.5);
        assertTrue(grownBytes < 1_000_000, "grew by " + grownBytes + " bytes");
    }

    @Test
    void hoursStepByStepKeepMemoryFlatAndTheOutputSteady() {
        staysFlat(started(false), HOURS);
    }

    @Test
    void aDayOfBurnInLeaptThroughKeepsMemoryFlatAndTheOutputSteady() {
        staysFlat(started(true), 24);
    }

    @ParameterizedTest
    @ValueSource(strings = {"bench-12v", "counter-5v", "tape-24v"})
    void aCrackedJointHoldsForMinutesAndOpensInABurnIn(String unit) {
        UnitDesign design = SimulatedUnits.named(unit);
        RailDesign rail = design.rails().get(0);
        Plant plant = design.build(Surroundings.standard(1), List.of(PlacedFault.of(Fault.CRACKED_JOINT)));
        plant.line(design.nominalLineV(), design.nominalLineHz());
        // the load comes afterwards: a foldback supply would not start into it
        plant.advanceTo(0.3);
        plant.load(0, voltageV -> rail.ratedA() * Math.min(1, voltageV / 0.3));
        plant.advanceTo(180);
        double earlyV = plant.voltageV(0, Node.OUTPUT);
        double openedS = 0;
        while (openedS == 0 && plant.timeS() < 1200) {
            plant.advanceTo(plant.timeS() + 0.1);
            openedS = plant.voltageV(0, Node.OUTPUT) < 0.5 * rail.nominalV() ? plant.timeS() : 0;
        }

        LOG.log(INFO, "{0}: opened after {1} s at {2} C", unit, openedS, plant.heatSinkC(0));
        assertEquals(rail.nominalV(), earlyV, 0.05 * rail.nominalV());
        // 43 °C is 18 K above the surroundings; sinks of 400 to 540 s rise by 26 to 32 K in the end
        assertTrue(openedS > 300 && openedS < 900, "opened after " + openedS + " s");
        assertEquals(43, plant.heatSinkC(0), 1);
    }

    private static long usedBytes() {
        Runtime runtime = Runtime.getRuntime();
        for (int i = 0; i < 3; i++) {
            System.gc();
        }
        return runtime.totalMemory() - runtime.freeMemory();
    }
}
