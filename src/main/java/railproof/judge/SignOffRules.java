package railproof.judge;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import railproof.run.RunData;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Stage;

/** What stands in the way of signing a run off. Pure. */
public final class SignOffRules {
    private SignOffRules() {}

    /**
     * Every reason against it, in words; empty if there is none.
     *
     * <p>An exercise on a simulated run is held to the same rules, except that a simulated bench need not be calibrated.
     */
    public static List<String> refusals(RunData run, Judgement judgement, SignOff asked) {
        List<String> against = new ArrayList<>();
        if (asked.by().isBlank()) {
            against.add("nobody is named who signs off");
        }
        if (asked.checked().isEmpty() || asked.checked().stream().anyMatch(String::isBlank)) {
            against.add("nothing is named that was checked");
        }
        if (run.header().stage() != Stage.AS_LEFT) {
            against.add("it is an as-found run: what ships is the unit as left");
        }
        outcome(run.outcome(), against);
        simulation(run, judgement, asked, against);
        verdict(judgement, asked, against);
        return against;
    }

    private static void outcome(RunOutcome outcome, List<String> against) {
        if (!outcome.completed()) {
            String cause = outcome.cause().isEmpty() ? "" : ": " + outcome.cause();
            against.add("the run is incomplete" + cause);
        }
        if (outcome.safeState() != SafeState.CONFIRMED) {
            against.add("unsafe: it was not confirmed at the end that load and line were off");
        }
    }

    private static void simulation(RunData run, Judgement judgement, SignOff asked, List<String> against) {
        boolean simulated = run.header().simulated();
        if (simulated && !asked.training()) {
            against.add(
                    "it is simulated: no real unit was measured; as an exercise it can be signed off with --training");
        }
        if (!simulated && asked.training()) {
            against.add("it is a real run: --training is for exercises on simulated ones");
        }
        CalibrationState calibration = CalibrationState.of(run, judgement);
        boolean exercise = simulated && calibration.kind() == CalibrationState.Kind.MISSING;
        if (!calibration.allowsSignOff() && !exercise) {
            against.add("the calibration does not allow it: " + calibration.words());
        }
    }

    private static void verdict(Judgement judgement, SignOff asked, List<String> against) {
        switch (judgement.overall()) {
            case PASS -> {
                // nothing against it
            }
            case CONDITIONAL_PASS, CONDITIONAL_FAIL -> {
                if (asked.reason().isBlank()) {
                    against.add("a conditional verdict needs a written reason: "
                            + named(judgement, Verdict.CONDITIONAL_PASS, Verdict.CONDITIONAL_FAIL));
                }
            }
            case NOT_JUDGED -> against.add("not everything was judged: " + named(judgement, Verdict.NOT_JUDGED));
            case FAIL -> {
                against.add("the unit failed: " + named(judgement, Verdict.FAIL));
                if (judgement.checks().stream().anyMatch(check -> check.verdict() == Verdict.NOT_JUDGED)) {
                    against.add("not everything was judged: " + named(judgement, Verdict.NOT_JUDGED));
                }
            }
        }
    }

    private static String named(Judgement judgement, Verdict... verdicts) {
        List<Verdict> wanted = List.of(verdicts);
        return judgement.checks().stream()
                .filter(check -> wanted.contains(check.verdict()))
                .map(check -> check.rail() + " " + check.title() + " ("
                        + check.verdict().words() + ")")
                .collect(Collectors.joining("; "));
    }
}
