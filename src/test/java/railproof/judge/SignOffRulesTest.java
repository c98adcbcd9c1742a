package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.profile.DecisionRule;
import railproof.profile.SourceText;
import railproof.run.ChannelAccuracy;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.RunHeader;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Stage;

class SignOffRulesTest {
    private static final RunOutcome DONE = new RunOutcome(RunOutcome.End.COMPLETED, "", List.of(), SafeState.CONFIRMED);
    private static final SignOff ASKED = asked("m. k.", List.of("earth bond"), "", false);

    @Test
    void aGoodRunCanBeSignedOff() {
        assertEquals(List.of(), refusals(run(Stage.AS_LEFT, DONE, false, "2027-03-02"), Verdict.PASS, ASKED));
    }

    @Test
    void everyReasonIsGivenAtOnce() {
        RunOutcome stopped = new RunOutcome(RunOutcome.End.STOPPED, "stopped by m. k.", List.of(), SafeState.COMMANDED);
        List<String> refusals = refusals(
                run(Stage.AS_FOUND, stopped, true, "2026-11-24"), Verdict.FAIL, asked(" ", List.of(), "", false));
        Map<Integer, String> expected = Map.of(
                0, "nobody is named",
                1, "nothing is named",
                2, "as-found",
                3, "incomplete: stopped by m. k.",
                4, "unsafe",
                5, "simulated",
                6, "calibration expired on 2026-11-24",
                7, "the unit failed: +5 V Ripple (fail)");
        assertEquals(expected.size(), refusals.size(), String.join("\n", refusals));
        expected.forEach((i, words) -> assertTrue(refusals.get(i).contains(words), refusals.get(i)));
    }

    @Test
    void aSafeStateThatIsOnlyCommandedIsNotEnough() {
        for (SafeState state : List.of(SafeState.COMMANDED, SafeState.UNKNOWN)) {
            RunOutcome outcome = new RunOutcome(RunOutcome.End.COMPLETED, "", List.of(), state);
            assertEquals(
                    1,
                    refusals(run(Stage.AS_LEFT, outcome, false, "2027-03-02"), Verdict.PASS, ASKED)
                            .size());
        }
    }

    @Test
    void aConditionalVerdictNeedsAReason() {
        RunData run = run(Stage.AS_LEFT, DONE, false, "2027-03-02");
        for (Verdict verdict : List.of(Verdict.CONDITIONAL_PASS, Verdict.CONDITIONAL_FAIL)) {
            assertEquals(1, refusals(run, verdict, ASKED).size());
            SignOff reasoned = asked("m. k.", List.of("earth bond"), "measured again with the reference meter", false);
            assertEquals(List.of(), refusals(run, verdict, reasoned));
        }
    }

    @Test
    void whatWasNotJudgedCannotBeReasonedAway() {
        SignOff reasoned = asked("m. k.", List.of("earth bond"), "it will be fine", false);
        assertEquals(
                1,
                refusals(run(Stage.AS_LEFT, DONE, false, "2027-03-02"), Verdict.NOT_JUDGED, reasoned)
                        .size());
    }

    @Test
    void anExerciseNeedsASimulatedRunAndNoCalibration() {
        SignOff exercise = asked("m. k.", List.of("earth bond"), "", true);
        assertEquals(List.of(), refusals(run(Stage.AS_LEFT, DONE, true, ""), Verdict.PASS, exercise));
        assertEquals(
                1,
                refusals(run(Stage.AS_LEFT, DONE, true, "2026-11-24"), Verdict.PASS, exercise)
                        .size());
        assertEquals(
                1,
                refusals(run(Stage.AS_LEFT, DONE, false, "2027-03-02"), Verdict.PASS, exercise)
                        .size());
        assertEquals(
                1,
                refusals(run(Stage.AS_LEFT, DONE, false, ""), Verdict.PASS, ASKED)
                        .size());
    }

    private static List<String> refusals(RunData run, Verdict verdict, SignOff asked) {
        Check check = new Check(
                "ripple-pp",
                "Ripple",
                "+5 V",
                Measured.of(0.02, 0.001, Unit.VOLT),
                0.002,
                2,
                Band.atMost(0.05),
                Unit.VOLT,
                verdict,
                "");
        return SignOffRules.refusals(
                run, new Judgement("counter-5v", "ab12", DecisionRule.NON_BINARY, List.of(check)), asked);
    }

    private static SignOff asked(String by, List<String> checked, String reason, boolean training) {
        return new SignOff(by, checked, Instant.parse("2026-11-25T12:00:00Z"), reason, training, Verdict.PASS);
    }

    /** A run of 2026-11-25; {@code due} is the last day of its calibration, empty if it has none. */
    private static RunData run(Stage stage, RunOutcome outcome, boolean simulated, String due) {
        SourceText source = SourceText.of("", "");
        RunHeader header = new RunHeader(
                "id",
                "LC-2107",
                stage,
                "",
                Instant.parse("2026-11-25T10:15:30Z"),
                "0.1.0",
                source,
                source,
                source,
                simulated,
                "",
                List.of());
        Optional<ChannelAccuracy.Calibrated> calibrated = due.isEmpty()
                ? Optional.empty()
                : Optional.of(new ChannelAccuracy.Calibrated(
                        LocalDate.parse("2026-03-02"), LocalDate.parse(due), "bench meter"));
        RunEvent channel = new RunEvent.ChannelUsed(
                0,
                new ChannelAccuracy(
                        "+5 V", Quantity.OUTPUT, "output", 1e-4, 1e-3, 0, 0, 0, 1e-4, 1e-4, 0, 0, calibrated));
        return new RunData(header, List.of(), List.of(), List.of(channel), outcome);
    }
}
