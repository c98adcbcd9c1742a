package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static railproof.app.SimulatedRun.value;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.judge.SectionSummary;
import railproof.report.VerdictTable;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Section;
import railproof.sim.Node;
import railproof.sim.Plant;
import railproof.sim.supply.SimulatedUnits;
import railproof.sim.supply.Surroundings;

/**
 * What the procedures do with simulated units, through the whole stack. Their figures are held against an independent
 * circuit simulator in {@link ProceduresAgainstNgspiceTest}.
 */
class ProceduresTest {
    private static final String UNIT = "bench-12v";

    @TempDir
    private Path data = Path.of("");

    /** Line on, at once or in steps, with the pass transistor shorted; the unit is watched meanwhile. */
    private SimulatedRun.Done shortedPassStage(String procedures, List<WatchedPlant> watched) throws Exception {
        SimulatedRun.Done done = SimulatedRun.to(UNIT, procedures)
                .fault("pass-transistor-short")
                .plant(unit -> {
                    watched.add(new WatchedPlant(unit, 0));
                    return watched.get(0);
                })
                .run(data);
        RunOutcome outcome = done.result().run().outcome();
        assertEquals(RunOutcome.End.TRIPPED, outcome.end(), outcome::cause);
        assertEquals(ExitStatus.UNIT_FAILED, done.result().status());
        assertEquals(SafeState.CONFIRMED, outcome.safeState());
        assertTrue(done.points(Section.LOAD_SWEEP).isEmpty());
        assertEquals(0, watched.get(0).mostA[0], 1e-3, "the unit was loaded");
        return done;
    }

    @Test
    void aShortedPassStageStopsTheFirstPowerUpAtTheFirstStepOfTheLineWithinFiftyMillisecondsOfData() throws Exception {
        List<WatchedPlant> watched = new ArrayList<>();

        SimulatedRun.Done done = shortedPassStage("first-power-up, load-sweep", watched);

        RunOutcome outcome = done.result().run().outcome();
        assertTrue(outcome.cause().contains("pass stage shorted"), outcome::cause);
        Point last = done.points(Section.FIRST_POWER_UP).get(0);
        assertEquals(0.25 * 115, last.asked().lineV(), 1e-6);
        assertEquals("off", last.asked().mode());
        // the line source is given its 400 ms first; what comes after them is data, and the way to line off
        double dataS = watched.get(0).lineOffS - watched.get(0).lineOnS - 0.4;
        assertTrue(dataS > 0 && dataS < 0.05, () -> dataS + " s");
    }

    @Test
    void aShortedPassStageAtFullLineIsOffWithinFiftyMilliseconds() throws Exception {
        List<WatchedPlant> watched = new ArrayList<>();

        SimulatedRun.Done done = shortedPassStage("load-sweep", watched);

        assertTrue(
                done.result().run().outcome().cause().contains("over-voltage"),
                done.result().run().outcome()::cause);
        double tookS = watched.get(0).lineOffS - watched.get(0).outputSinceS;
        assertTrue(tookS < 0.05, () -> tookS + " s");
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
        assertEquals(List.of(4), announced(done, Section.FIRST_POWER_UP));
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
        everyProcedureHasItsSection(result);
    }

    /** In the verdict, and what changes is drawn on the certificate. */
    private static void everyProcedureHasItsSection(RunResult result) throws IOException {
        List<SectionSummary> sections = result.judgement().orElseThrow().sections();
        assertEquals(
                List.of(
                        Section.NO_LOAD,
                        Section.LOAD_SWEEP,
                        Section.DROPOUT_LINE,
                        Section.LOAD_STEP,
                        Section.HOLD_UP,
                        Section.START_UP,
                        Section.CURRENT_LIMIT,
                        Section.RECOVERY),
                sections.stream().map(SectionSummary::section).toList());
        for (SectionSummary section : sections) {
            assertTrue(section.points() > 0 && section.toS() >= section.fromS(), section::toString);
            assertFalse(section.verdict().isEmpty(), section::toString);
            assertEquals("", section.reason());
        }
        String page = Files.readString(result.folder().resolve("certificate.html"));
        for (String title : List.of(
                "Output over line at full load",
                "Load step, time since the output answers",
                "Hold-up, time since line off",
                "Start-up, time since line on",
                "line off at ",
                "line on into a constant current, reservoir at ",
                "overload released")) {
            assertTrue(page.contains(title), title);
        }
        String verdict = Files.readString(result.folder().resolve("verdict.json"));
        assertTrue(verdict.contains("\"section\" : \"hold-up\""), verdict);
    }

    /** 20 W, 12 W and 6 W in all; with 30 W allowed the others get less while one is at full load. */
    @Test
    void theOtherRailsAreLoadedWithinThePowerOfTheWholeUnit() throws Exception {
        List<WatchedPlant> watched = new ArrayList<>();
        SimulatedRun.to(
                        "counter-3rail",
                        "load-sweep, cross-regulation",
                        "line_cycles = 6",
                        "others_load_pct = 100\nsum_power_max_W = 30\nline_cycles = 6")
                .plant(unit -> {
                    watched.add(new WatchedPlant(unit, 0));
                    return watched.get(0);
                })
                .run(data);

        // the outputs stand up to 1 % above nominal
        double mostW = watched.get(0).mostW;
        assertTrue(mostW > 0.95 * 30 && mostW < 1.02 * 30, () -> mostW + " W");
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
        List<double[]> naive = new ArrayList<>();
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

    /** Its error transistor holds the base down: the output sags at once, and no step of the search is held. */
    @Test
    void aRailThatHoldsNoCurrentAtAllEndsTheSearchInOrder() throws Exception {
        SimulatedRun.Done done = SimulatedRun.to("counter-5v", "load-sweep, current-limit")
                .fault("error-transistor-short")
                .run(data);

        RunOutcome outcome = done.result().run().outcome();
        assertEquals(RunOutcome.End.COMPLETED, outcome.end(), outcome::cause);
        assertEquals(ExitStatus.UNIT_FAILED, done.result().status());
        assertTrue(
                done.result().run().events().stream()
                        .anyMatch(event -> event.toString().contains("holds no current at all")),
                "nothing is said of it");
    }

    /** How many points each rail's section was said to have. */
    private static List<Integer> announced(SimulatedRun.Done done, Section section) {
        return done.result().run().events().stream()
                .filter(RunEvent.SectionStarted.class::isInstance)
                .map(RunEvent.SectionStarted.class::cast)
                .filter(event -> event.section() == section)
                .map(RunEvent.SectionStarted::pointsPlanned)
                .toList();
    }
}
