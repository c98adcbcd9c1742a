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

    /** What the reference has in series with the diode that a fault may open; less, and it finds no solution. */
    private static final double REFERENCE_DIODE_OHM = 1e-3;

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

    /** Raw and output of the loaded supply over some time, at the instants at which either simulator has solved them. */
    private static final class Waves {
        private final double[] atS;
        private final double[] rawV;
        private final double[] outV;

        private Waves(double[] atS, double[] rawV, double[] outV) {
            this.atS = atS;
            this.rawV = rawV;
            this.outV = outV;
        }

        static Waves of(Ngspice run) {
            return new Waves(run.instantsS(), run.wave(0), run.wave(1));
        }

        static Waves of(UnitPlant plant, double spanS, int samples) {
            double fromS = plant.timeS();
            Waves waves = new Waves(new double[samples], new double[samples], new double[samples]);
            for (int i = 0; i < samples; i++) {
                waves.atS[i] = fromS + spanS * (i + 1) / samples;
                plant.advanceTo(waves.atS[i]);
                waves.rawV[i] = plant.voltageV(0, Node.RAW);
                waves.outV[i] = plant.voltageV(0, Node.OUTPUT);
            }
            return waves;
        }

        /** Root mean square distance from waveforms that were solved much more finely, in mV. */
        Distance from(Waves exact) {
            return new Distance(1e3 * rms(rawV, exact.atS, exact.rawV), 1e3 * rms(outV, exact.atS, exact.outV));
        }

        private double rms(double[] valuesV, double[] exactS, double[] exactV) {
            double sum = 0;
            int next = 1;
            for (int i = 1; i < atS.length; i++) {
                while (next < exactS.length - 1 && exactS[next] < atS[i]) {
                    next++;
                }
                double part = (atS[i] - exactS[next - 1]) / (exactS[next] - exactS[next - 1]);
                double difference = valuesV[i] - exactV[next - 1] - part * (exactV[next] - exactV[next - 1]);
                sum += difference * difference * (atS[i] - atS[i - 1]);
            }
            return Math.sqrt(sum / (atS[atS.length - 1] - atS[0]));
        }
    }

    /** How far waveforms are off, root mean square, mV. */
    private record Distance(double rawMv, double outMv) {
        @Override
        public String toString() {
            return String.format(Locale.ROOT, "raw %.2f mV and output %.3f mV off", rawMv, outMv);
        }
    }

    private static Ngspice reference(String step, String reltol, String stop, String extra) {
        return Ngspice.run(
                "supply.cir",
                Map.of("amps", "1"),
                Map.of("start", "0.6", "stop", stop, "step", step, "reltol", reltol, "extra", extra));
    }

    private static Waves waves(String step, String reltol) {
        return Waves.of(reference(step, reltol, "1.0", "wrdata waves.txt v(raw) v(out)"));
    }

    /**
     * Speed on the same circuit, and what either is worth: the waveforms of both are compared with those of the outside
     * simulator at steps twenty times finer than those with which it serves as reference. Its own steps are made
     * coarser too, until its waveforms are no better than ours.
     */
    @Test
    void oneRailAgainstTheOutsideSimulatorOnTheSameCircuit() {
        double oursRatio = 0;
        for (int run = 0; run < 4; run++) {
            // the best of four: the first ones are the compiler's
            oursRatio = Math.max(oursRatio, speedRatio(Bench.supply(), 60));
        }
        Waves exact = waves("1u", "1e-5");
        UnitPlant plant = (UnitPlant) Bench.supply().build(Bench.AT_27_C);
        plant.network(0).circuit.diodeSeriesOhm = REFERENCE_DIODE_OHM;
        plant.line(115, 60);
        plant.load(0, voltageV -> Math.min(1, voltageV / 0.6));
        plant.advanceTo(0.6);
        say(
                "ours: %.0f simulated seconds per second, %s",
                oursRatio, Waves.of(plant, 0.4, 8_000).from(exact));
        for (String step : List.of("20u", "30u", "40u", "50u", "70u", "100u", "200u")) {
            // printing and measuring left out, as for ours
            double speedRatio = 6 / reference(step, "1e-4", "6.0", "rusage").analysisS();
            say(
                    "ngspice at %s: %.2f simulated seconds per second, %s; ours is %.0f times as fast",
                    step, speedRatio, waves(step, "1e-4").from(exact), oursRatio / speedRatio);
            assertTrue(oursRatio > 0 && speedRatio > 0);
        }
    }

    private static void say(String format, Object... values) {
        LOG.log(INFO, String.format(Locale.ROOT, format, values));
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
