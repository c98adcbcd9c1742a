package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.BadFileException;
import railproof.base.Measured;
import railproof.judge.Budget;
import railproof.judge.CalibrationState;
import railproof.judge.Judge;
import railproof.rig.file.RigFile;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Section;

/** Whole runs on a rig with a calibration file; the run's clock starts on 2026-01-05. */
class CalibratedRunTest {
    @TempDir
    private Path data = Path.of("");

    /** A line that reads 1 % more and 20 mV less than nominal, so that its effect cannot be overlooked. */
    private static String calibration(String board, String on, String due) {
        return """
                rig = "plain-bench"
                board_serial = "%s"
                [channels.output]
                calibrated_on = "%s"
                due_on = "%s"
                reference = "bench meter, serial 0012"
                reference_gain_u_pct = 0.002
                reference_offset_u_V = 0.0001
                gain = 1.01
                offset_V = -0.02
                pivot_V = 5
                gain_u_pct = 0.001
                height_u_V = 0.00005
                residual_sd_V = 0.00002
                nominal_V = [0, 5, 9]
                reference_readings_V = [-0.02, 5.03, 9.07]
                """
                .formatted(board, on, due);
    }

    private RunData run(String calibration) throws Exception {
        Path file = data.resolve("plain-bench.toml");
        Files.writeString(file, PlainBench.RIG.replaceFirst("(?m)^title = .*", "$0\ncalibration_file = \"cal.toml\""));
        if (!calibration.isEmpty()) {
            Files.writeString(data.resolve("cal.toml"), calibration);
        }
        return new PlainBench(RigFile.read(file))
                .run(data, UnaryOperator.identity())
                .run();
    }

    private static List<String> warnings(RunData run) {
        return run.events().stream()
                .filter(RunEvent.Note.class::isInstance)
                .map(event -> ((RunEvent.Note) event))
                .filter(note -> note.level() == RunEvent.Note.Level.WARNING)
                .map(RunEvent.Note::text)
                .toList();
    }

    private static CalibrationState state(RunData run) throws BadFileException {
        return CalibrationState.of(run, Judge.judge(run, PlainBench.profile(), ""));
    }

    @Test
    void theLineIsAppliedAndItsUncertaintyTakesTheDataSheetsPlace() throws Exception {
        RunData run = run(calibration("SIM-0001", "2025-12-01", "2026-12-01"));

        Measured noLoad = run.points(Section.NO_LOAD, "+5 V")
                .get(0)
                .reading(Quantity.OUTPUT)
                .measured()
                .orElseThrow();
        // 5.02 V by the simulated board, which is exact here; 0.2 mV of noise averaged
        assertEquals(1.01 * 5.02 - 0.02, noLoad.value(), 0.0001);
        double reference = Math.hypot(0.00002 * noLoad.value(), 0.0001);
        assertEquals(Math.hypot(reference, 0.00005), noLoad.sharedU(), 1e-6);
        assertEquals(CalibrationState.Kind.IN_FORCE, state(run).kind());
        assertTrue(run.header().calibration().text().contains("serial 0012"));
        assertFalse(warnings(run).stream().anyMatch(text -> text.contains("expired")));
    }

    /** 1 mV at 2 A with 0.05 mV and 0.02 mV of the line's own: u = 0.5013 mΩ, so 1.0027 mV at the full load of 2 A. */
    @Test
    void theMeasuredLeadDropIsInEveryReadingUnderLoadAndInTheBudget() throws Exception {
        RunData run = run(calibration("SIM-0001", "2025-12-01", "2026-12-01")
                + "lead_drop_check_V = -0.001\nlead_drop_current_A = 2.0\n");

        double leadU = Math.sqrt(0.001 * 0.001 + 0.00005 * 0.00005 + 0.00002 * 0.00002) / 2;
        List<Budget> budgets = Budget.of(run, Judge.judge(run, PlainBench.profile(), ""));
        // the resistance's value, the contribution: none without load, 2 A of it in load regulation, none in line's
        assertEquals(leadU, lead(budgets, "no-load-voltage").halfWidthDimensionless(), 1e-12);
        assertEquals(0, lead(budgets, "no-load-voltage").contributionDimensionless());
        // the worst point of this unit is the unloaded one
        assertEquals(0, lead(budgets, "output-voltage").contributionDimensionless());
        // of full load: N / F² times the drop
        assertEquals(2 * leadU / 5, lead(budgets, "load-regulation").contributionDimensionless(), 0.01 * leadU);
        assertEquals(0, lead(budgets, "line-regulation").contributionDimensionless(), 1e-6);
        for (Budget budget : budgets) {
            double judgedU = budget.check().value().measured().orElseThrow().standardU();
            // the onset of the limit is taken in the middle of its levels, as in the budgets without a calibration
            assertEquals(
                    judgedU, budget.combinedU(), 1e-3 * judgedU, budget.check().id());
        }
    }

    private static Budget.Line lead(List<Budget> budgets, String check) {
        return budgets.stream()
                .filter(budget -> budget.check().id().equals(check))
                .flatMap(budget -> budget.lines().stream())
                .filter(line -> line.source().startsWith("lead drop: current"))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void anExpiredCalibrationIsSaidAndStillUsed() throws Exception {
        RunData run = run(calibration("SIM-0001", "2024-12-01", "2026-01-04"));

        assertEquals(RunOutcome.End.COMPLETED, run.outcome().end());
        assertTrue(warnings(run).contains("calibration of channel output expired on 2026-01-04"), () -> warnings(run)
                .toString());
        assertEquals(CalibrationState.Kind.EXPIRED, state(run).kind());
        assertEquals("calibration expired on 2026-01-04", state(run).words());
        assertFalse(state(run).allowsSignOff());
    }

    @Test
    void theLastDayIsStillInForce() throws Exception {
        RunData run = run(calibration("SIM-0001", "2025-01-05", "2026-01-05"));

        assertEquals(CalibrationState.Kind.IN_FORCE, state(run).kind());
    }

    @Test
    void aMissingFileStopsSignOffNotTheRun() throws Exception {
        RunData run = run("");

        assertEquals(RunOutcome.End.COMPLETED, run.outcome().end());
        assertEquals(1, warnings(run).size());
        assertTrue(
                warnings(run).get(0).startsWith("no calibration: there is no file "),
                warnings(run).get(0));
        assertEquals(CalibrationState.Kind.MISSING, state(run).kind());
        assertEquals("no calibration", state(run).words());
    }

    @Test
    void theCalibrationOfAnotherBoardIsRefusedBeforeAnythingIsOn() throws Exception {
        RunData run = run(calibration("RB-0007", "2025-12-01", "2026-12-01"));

        assertEquals(RunOutcome.End.FAULTED, run.outcome().end());
        assertEquals(
                "the calibration is of board RB-0007, connected is board SIM-0001",
                run.outcome().cause());
        assertEquals(SafeState.CONFIRMED, run.outcome().safeState());
        assertEquals(List.of(), run.points());
    }
}
