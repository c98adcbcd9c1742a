package railproof.sim.supply;

import static java.lang.System.Logger.Level.INFO;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.lang.management.ManagementFactory;
import java.util.Locale;
import java.util.Map;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import railproof.sim.Node;

/**
 * How fast the plant is. Figures are processor seconds of the one thread, so that other work on the machine counts
 * little; nothing is asserted on time.
 */
@Tag("bench")
final class SpeedBenchTest {
    private static final System.Logger LOG = System.getLogger(SpeedBenchTest.class.getName());

    private static double cpuS() {
        return ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime() * 1e-9;
    }

    private static UnitPlant halfLoaded(UnitDesign design) {
        UnitPlant plant = (UnitPlant) design.build(Bench.AT_27_C);
        plant.line(design.nominalLineV(), design.nominalLineHz());
        for (int rail = 0; rail < design.rails().size(); rail++) {
            double drawA = 0.5 * design.rails().get(rail).ratedA();
            plant.load(rail, voltageV -> drawA * Math.min(1, voltageV / 0.6));
        }
        plant.advanceTo(1);
        return plant;
    }

    /** Simulated seconds per processor second. */
    private static double speedRatio(UnitDesign design, double spanS) {
        UnitPlant plant = halfLoaded(design);
        double fromS = cpuS();
        plant.advanceTo(1 + spanS);
        return spanS / (cpuS() - fromS);
    }

    @Test
    void oneRailAgainstTheOutsideSimulatorOnTheSameCircuit() {
        double oursRatio = 0;
        for (int run = 0; run < 4; run++) {
            // the best of four: the first ones are the compiler's
            oursRatio = Math.max(oursRatio, speedRatio(Bench.supply(), 60));
        }
        // the same settings with which it serves as reference, without its start-up and printing
        double referenceRatio = 6 / referenceS("6.0");

        LOG.log(
                INFO,
                String.format(
                        Locale.ROOT,
                        "simulated seconds per second: ours %.0f, ngspice %.2f, %.0f times",
                        oursRatio,
                        referenceRatio,
                        oursRatio / referenceRatio));
        assertTrue(oursRatio > 0 && referenceRatio > 0);
    }

    private static double referenceS(String stop) {
        Ngspice run = Ngspice.run("supply.cir", Map.of(), Map.of("start", "0.6", "stop", stop, "extra", "rusage"));
        return run.analysisS();
    }

    @Test
    void everyUnit() {
        for (String name : SimulatedUnits.names()) {
            UnitDesign design = SimulatedUnits.named(name);
            speedRatio(design, 10);
            UnitPlant plant = halfLoaded(design);
            long attempts = plant.attempts();
            long iterations = plant.iterations();
            double fromS = cpuS();
            plant.advanceTo(51);
            double usedS = cpuS() - fromS;
            LOG.log(
                    INFO,
                    String.format(
                            Locale.ROOT,
                            "%s: %.0f times real time, %.0f steps/s, %.2f systems per step, %.0f ns per system",
                            name,
                            50 / usedS,
                            (plant.attempts() - attempts) / 50.0,
                            (plant.iterations() - iterations) / (double) (plant.attempts() - attempts),
                            usedS * 1e9 / (plant.iterations() - iterations)));
            assertEquals(51, plant.timeS());
        }
    }

    @Test
    void sampledAtTwentyKilohertz() {
        UnitPlant plant = halfLoaded(Bench.supply());
        double fromS = cpuS();
        double sumV = 0;
        for (int i = 1; i <= 400_000; i++) {
            plant.advanceTo(1 + i * 50e-6);
            sumV += plant.voltageV(0, Node.RAW) + plant.voltageV(0, Node.OUTPUT);
        }
        LOG.log(INFO, String.format(Locale.ROOT, "sampled at 20 kHz: %.0f times real time", 20 / (cpuS() - fromS)));
        assertTrue(sumV > 0);
    }
}
