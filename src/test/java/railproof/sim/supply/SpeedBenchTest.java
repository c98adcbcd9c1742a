package railproof.sim.supply;

import static java.lang.System.Logger.Level.INFO;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.lang.management.ManagementFactory;
import java.util.List;
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

    /** Half a second of the loaded supply: means, and peak to peak, of raw and output. */
    private record Figures(double rawV, double rawRippleV, double outV, double outRippleV) {
        static Figures of(Ngspice run) {
            return new Figures(
                    run.value("raw_mean"),
                    run.value("raw_max") - run.value("raw_min"),
                    run.value("out_mean"),
                    run.value("out_max") - run.value("out_min"));
        }

        /** The worst means' and the worst ripples' difference, in percent. */
        String against(Figures exact) {
            double mean = Math.max(Math.abs(rawV / exact.rawV - 1), Math.abs(outV / exact.outV - 1));
            double ripple =
                    Math.max(Math.abs(rawRippleV / exact.rawRippleV - 1), Math.abs(outRippleV / exact.outRippleV - 1));
            return String.format(Locale.ROOT, "means within %.3f %%, ripple within %.2f %%", 100 * mean, 100 * ripple);
        }
    }

    private static Ngspice reference(String step, String reltol, String stop) {
        return Ngspice.run(
                "supply.cir",
                Map.of("amps", "1"),
                Map.of("start", "0.6", "stop", stop, "step", step, "reltol", reltol, "extra", "rusage"));
    }

    /**
     * Speed on the same circuit, and what either is worth: both are compared with the outside simulator at steps twenty
     * times finer than those with which it serves as reference. Its own steps are made coarser too, until its ripple is
     * no better than ours.
     */
    @Test
    void oneRailAgainstTheOutsideSimulatorOnTheSameCircuit() {
        double oursRatio = 0;
        for (int run = 0; run < 4; run++) {
            // the best of four: the first ones are the compiler's
            oursRatio = Math.max(oursRatio, speedRatio(Bench.supply(), 60));
        }
        UnitPlant plant = halfLoaded(Bench.supply());
        Observed[] ours = Observed.of(plant, 0, new Node[] {Node.RAW, Node.OUTPUT}, 0.4, 20_000);
        Figures exact = Figures.of(reference("1u", "1e-5", "1.0"));
        LOG.log(
                INFO,
                String.format(
                        Locale.ROOT,
                        "ours: %.0f simulated seconds per second, %s",
                        oursRatio,
                        new Figures(ours[0].meanV(), ours[0].rippleV(), ours[1].meanV(), ours[1].rippleV())
                                .against(exact)));
        for (String step : List.of("20u", "50u", "100u", "200u")) {
            Figures figures = Figures.of(reference(step, "1e-4", "1.0"));
            // printing and measuring left out, as for ours
            double speedRatio = 6 / reference(step, "1e-4", "6.0").analysisS();
            LOG.log(
                    INFO,
                    String.format(
                            Locale.ROOT,
                            "ngspice at %s: %.2f simulated seconds per second, %s; ours is %.0f times as fast",
                            step,
                            speedRatio,
                            figures.against(exact),
                            oursRatio / speedRatio));
            assertTrue(oursRatio > 0 && speedRatio > 0);
        }
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
