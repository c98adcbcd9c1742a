package railproof.sim.supply;

import static java.lang.System.Logger.Level.INFO;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import railproof.sim.Node;
import railproof.sim.Plant;

/** A burn-in of a day: memory stays flat and nothing drifts away numerically. Takes minutes. */
@Tag("slow")
final class LongRunTest {
    private static final System.Logger LOG = System.getLogger(LongRunTest.class.getName());
    private static final double HOUR_S = 3600;

    @Test
    void aDayOfBurnInKeepsMemoryFlatAndTheOutputSteady() {
        UnitDesign design = SimulatedUnits.named("tape-24v");
        Plant plant = design.build(Surroundings.standard(1));
        plant.line(230, 50);
        plant.load(0, voltageV -> 2.4 * Math.min(1, voltageV / 0.6));
        plant.advanceTo(HOUR_S);
        // after an hour the sink (540 s time constant) has been warm for long
        double warmV = Observed.of(plant, 0, Node.OUTPUT, 0.1, 1000).meanV();
        double warmC = plant.heatSinkC(0);
        long startBytes = usedBytes();
        for (int hour = 2; hour <= 24; hour++) {
            plant.advanceTo(hour * HOUR_S);
        }
        double endV = Observed.of(plant, 0, Node.OUTPUT, 0.1, 1000).meanV();
        long endBytes = usedBytes();

        LOG.log(INFO, "output {0} V after 1 h, {1} V after 24 h; sink {2} C", warmV, endV, plant.heatSinkC(0));
        assertEquals(warmV, endV, 1e-4 * 24);
        // 23 hours go on a sink that had left 0.13 % of its rise
        assertEquals(warmC, plant.heatSinkC(0), 0.5);
        assertTrue(endBytes - startBytes < 1_000_000, "grew by " + (endBytes - startBytes) + " bytes");
    }

    private static long usedBytes() {
        Runtime runtime = Runtime.getRuntime();
        for (int i = 0; i < 3; i++) {
            System.gc();
        }
        return runtime.totalMemory() - runtime.freeMemory();
    }
}
