package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static railproof.app.SimulatedRun.value;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.report.VerdictTable;
import railproof.rig.file.BuiltInFiles;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Section;
import railproof.sim.LoadCharacteristic;
import railproof.sim.Node;
import railproof.sim.Plant;
import railproof.sim.supply.SimulatedUnits;
import railproof.sim.supply.Surroundings;

/**
 * The procedures on simulated units, their figures against the circuit itself asked directly: no board, no load, no
 * protocol between. That the circuit is right is shown elsewhere, against an independent circuit simulator.
 */
class ProceduresTest {
    private static final String UNIT = "bench-12v";

    @TempDir
    private Path data = Path.of("");

    /** The bare circuit at full load, settled at a line. */
    private static Plant settledAt(double lineV) {
        Plant plant = SimulatedUnits.named(UNIT).build(Surroundings.standard(1975), List.of());
        plant.line(lineV, 60);
        plant.advanceTo(0.5);
        plant.load(0, constantCurrent(2));
        plant.advanceTo(1.5);
        return plant;
    }

    private static LoadCharacteristic constantCurrent(double amperes) {
        // below half a volt a load can only be a resistance
        return volts -> volts > 0.5 ? amperes : amperes * Math.max(0, volts) / 0.5;
    }

    private static double meanV(Plant plant) {
        double fromS = plant.timeS();
        double sum = 0;
        int n = 2000;
        for (int i = 1; i <= n; i++) {
            plant.advanceTo(fromS + 0.1 * i / n);
            sum += plant.voltageV(0, Node.OUTPUT);
        }
        return sum / n;
    }

    @Test
    @Tag("slow")
    void dropoutLineAndHoldUpAreThoseOfTheCircuit() throws Exception {
        SimulatedRun.Done done = SimulatedRun.to(UNIT, "dropout-line, hold-up, start-up, load-step")
                .run(data);

        RunOutcome outcome = done.result().run().outcome();
        assertEquals(RunOutcome.End.COMPLETED, outcome.end(), outcome::cause);
        List<Point> search = done.points(Section.DROPOUT_LINE);
        double foundV = value(search.get(search.size() - 1), Quantity.LINE);
        double lostBelowV = 0.98 * meanV(settledAt(115));
        double low = 70;
        double high = 105;
        while (high - low > 0.05) {
            double middle = (low + high) / 2;
            if (meanV(settledAt(middle)) >= lostBelowV) {
                high = middle;
            } else {
                low = middle;
            }
        }
        assertEquals(high, foundV, 0.01 * high);

        double holdUpS = value(done.points(Section.HOLD_UP).get(0), Quantity.TRANSIENT_TIME);
        assertTrue(holdUpS > 0, () -> "hold-up " + holdUpS);
        double[] range = holdUpRangeS();
        // the line goes off anywhere in its cycle; the circuit's own spread over the phases is the tolerance
        assertTrue(
                holdUpS > 0.99 * range[0] && holdUpS < 1.01 * range[1],
                () -> holdUpS + " not in " + range[0] + " to " + range[1]);

        List<Point> starts = done.points(Section.START_UP);
        assertEquals(2, starts.size());
        assertTrue(value(starts.get(0), Quantity.TRANSIENT_TIME) > 1e-3);
        List<Point> steps = done.points(Section.LOAD_STEP);
        assertEquals(2, steps.size());
        assertEquals(1.8, value(steps.get(0), Quantity.LOAD_CURRENT), 0.01);
        assertEquals(0.2, value(steps.get(1), Quantity.LOAD_CURRENT), 0.01);
        // the output resistance: lower at the higher load, by less than the profile's load regulation
        double fellV = value(steps.get(1), Quantity.OUTPUT) - value(steps.get(0), Quantity.OUTPUT);
        assertTrue(fellV > 0 && fellV < 0.015 * 12, () -> "fell by " + fellV + " V");
    }

    /** Shortest and longest hold-up of the bare circuit over eight phases of the line, s. */
    private static double[] holdUpRangeS() {
        double[] range = {Double.POSITIVE_INFINITY, 0};
        double lowestV = BuiltInFiles.profile(UNIT)
                .profile()
                .rails()
                .get(0)
                .limits()
                .outputV()
                .low();
        for (int phase = 0; phase < 8; phase++) {
            Plant plant = settledAt(115);
            double offS = 1.5 + phase / 8.0 / 60;
            plant.advanceTo(offS);
            plant.line(0, 60);
            double t = offS;
            while (plant.voltageV(0, Node.OUTPUT) >= lowestV && t < offS + 1) {
                t += 50e-6;
                plant.advanceTo(t);
            }
            range[0] = Math.min(range[0], t - offS);
            range[1] = Math.max(range[1], t - offS);
        }
        return range;
    }

    @Test
    void aShortedPassStageStopsTheFirstPowerUpBeforeFullLineAndBeforeAnyLoad() throws Exception {
        SimulatedRun.Done done = SimulatedRun.to(UNIT, "first-power-up, load-sweep")
                .fault("pass-transistor-short")
                .run(data);
        RunResult result = done.result();

        RunOutcome outcome = result.run().outcome();
        assertEquals(RunOutcome.End.TRIPPED, outcome.end(), outcome::cause);
        assertEquals(ExitStatus.UNIT_FAILED, result.status());
        assertEquals(SafeState.CONFIRMED, outcome.safeState());
        assertTrue(done.points(Section.LOAD_SWEEP).isEmpty());
        for (Point point : result.run().points()) {
            assertTrue(point.asked().lineV() < 115, point::toString);
            assertEquals("off", point.asked().mode());
        }
        assertTrue(
                outcome.cause().contains("pass stage shorted")
                        || outcome.cause().contains("not regulated")
                        || outcome.cause().contains("over-voltage"),
                outcome::cause);
    }

    @Test
    void aHealthyUnitComesUpInStepsAndPasses() throws Exception {
        SimulatedRun.Done done = SimulatedRun.to(
                        "tape-24v",
                        "first-power-up, load-sweep",
                        "line_cycles = 5",
                        "sweep_back = true\nline_cycles = 5")
                .run(data);

        assertEquals(4, done.points(Section.FIRST_POWER_UP).size());
        assertTrue(done.points(Section.FIRST_POWER_UP).get(3).readings().containsKey(Quantity.LINE_CURRENT));
        List<Point> sweep = done.points(Section.LOAD_SWEEP);
        assertEquals("return", sweep.get(sweep.size() - 1).note());
        assertTrue(sweep.stream().filter(point -> point.note().equals("back")).count() >= 5);
        assertFalse(sweep.get(0).note().equals("back"));
    }

    @Test
    void everyLimitOfAChangeIsJudged() throws Exception {
        String limits =
                """
                recovery_max_ms = 20
                step_deviation_max_V = 0.5
                hold_up_min_ms = 5
                start_up_max_ms = 500
                start_up_overshoot_max_V = 0.5
                dropout_line_max_V = 103
                overload_recovery_max_ms = 200
                """;
        RunResult result = SimulatedRun.to(
                        UNIT,
                        "load-sweep, dropout-line, load-step, hold-up, start-up, current-limit",
                        "[rails.limits]\n",
                        "[rails.limits]\n" + limits)
                .run(data)
                .result();

        List<String> passed = result.judgement().orElseThrow().checks().stream()
                .filter(check -> check.verdict() == railproof.judge.Verdict.PASS)
                .map(railproof.judge.Check::id)
                .toList();
        assertTrue(
                passed.containsAll(List.of(
                        "dropout-line",
                        "step-recovery",
                        "step-deviation",
                        "hold-up",
                        "start-up-time",
                        "start-up-overshoot",
                        "overload-recovery")),
                () -> VerdictTable.text(result.run(), result.judgement().orElseThrow()));
    }

    /**
     * A load that only ramps a constant current, as is often done, against a foldback rail: beyond the knee it drags the
     * output to its own floor, so it sees two places of the curve and nothing between. Ours sees the whole curve.
     */
    @Test
    @Tag("slow")
    void aCurveTracedInConstantCurrentAloneMissesTheFoldbackThatOursFinds() throws Exception {
        String unit = "counter-5v";
        double nominalV = 5;
        List<double[]> naive = new java.util.ArrayList<>();
        Plant plant = SimulatedUnits.named(unit).build(Surroundings.standard(1975), List.of());
        plant.line(115, 60);
        plant.advanceTo(0.5);
        for (double asked = 8; asked <= 13; asked += 0.25) {
            double amperes = asked;
            plant.load(0, volts -> volts > 0.6 ? amperes : amperes * Math.max(0, volts) / 0.6);
            plant.advanceTo(plant.timeS() + 0.05);
            naive.add(new double[] {plant.voltageV(0, Node.OUTPUT), plant.currentA(0)});
        }
        long between = naive.stream()
                .filter(p -> p[0] > 0.25 * nominalV && p[0] < 0.9 * nominalV)
                .count();
        assertEquals(0, between, "the constant-current ramp saw the curve between knee and short");
        assertTrue(naive.get(naive.size() - 1)[0] < 0.15 * nominalV, "the ramp never collapsed");

        SimulatedRun.Done done =
                SimulatedRun.to(unit, "load-sweep, current-limit").run(data);

        List<Point> traced = done.points(Section.CURRENT_LIMIT).stream()
                .filter(point -> point.note().equals("traced"))
                .filter(point -> value(point, Quantity.OUTPUT) > 0.25 * nominalV
                        && value(point, Quantity.OUTPUT) < 0.9 * nominalV)
                .toList();
        assertTrue(traced.size() >= 2, () -> "traced " + traced.size());
        for (Point point : traced) {
            // the same resistance on the bare circuit, warmed for as short a time
            double ohm = value(point, Quantity.OUTPUT) / value(point, Quantity.LOAD_CURRENT);
            assertEquals(
                    resistiveA(unit, ohm),
                    value(point, Quantity.LOAD_CURRENT),
                    0.03 * value(point, Quantity.LOAD_CURRENT));
        }
    }

    private static double resistiveA(String unit, double ohm) {
        Plant plant = SimulatedUnits.named(unit).build(Surroundings.standard(1975), List.of());
        plant.line(115, 60);
        plant.advanceTo(0.5);
        plant.load(0, volts -> Math.max(0, volts) / ohm);
        plant.advanceTo(1.0);
        double sum = 0;
        for (int i = 1; i <= 1000; i++) {
            plant.advanceTo(1.0 + i * 1e-4);
            sum += plant.currentA(0);
        }
        return sum / 1000;
    }
}
