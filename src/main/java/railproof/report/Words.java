package railproof.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import railproof.judge.CalibrationState;
import railproof.judge.Check;
import railproof.judge.Judgement;
import railproof.judge.SignOff;
import railproof.judge.Verdict;
import railproof.profile.DecisionRule;
import railproof.run.RunData;
import railproof.run.RunOutcome;
import railproof.run.SafeState;

/** What pages, tables and screens say in words. Pure. */
public final class Words {
    /** What a certificate says before the id of its run, so that a program finds it in any of its forms. */
    static final String RUN_MARK = "railproof-run: ";

    /** What the column says. */
    static final String TUR = "TUR: test uncertainty ratio, the width of what is allowed over 2 U";

    private Words() {}

    /** The decision rule with its source. */
    public static String rule(DecisionRule rule) {
        return switch (rule) {
            case SIMPLE_ACCEPTANCE -> "simple acceptance: the value itself against the limit (ILAC-G8:09/2019, 4.2.1)";
            case GUARD_BAND ->
                "guard band as wide as U: pass only if the limit is kept by U" + " (ILAC-G8:09/2019, 4.2.2)";
            case NON_BINARY ->
                "guard band as wide as U with conditional verdicts inside it" + " (ILAC-G8:09/2019, 4.2.3)";
        };
    }

    /** Why the run cannot stand as proof of a good unit; empty if it can. */
    public static List<String> marks(RunData run, Judgement judgement) {
        List<String> marks = new ArrayList<>();
        if (run.header().simulated()) {
            String unit = run.header().simulatedUnit();
            marks.add("SIMULATED: no real unit was measured" + (unit.isEmpty() ? "" : " (" + unit + ")"));
        }
        RunOutcome outcome = run.outcome();
        switch (outcome.safeState()) {
            case CONFIRMED -> {
                // nothing to say
            }
            case COMMANDED -> marks.add("NOT CONFIRMED OFF: load and unit were told to be off, nothing answered");
            case UNKNOWN -> marks.add("UNSAFE: load and unit are not known to be off");
        }
        String cause = outcome.cause().isEmpty() ? "" : ": " + outcome.cause();
        switch (outcome.end()) {
            case COMPLETED -> {
                // nothing to say
            }
            case TRIPPED -> marks.add("INCOMPLETE, tripped" + cause);
            case STOPPED -> marks.add("INCOMPLETE, stopped" + cause);
            case FAULTED -> marks.add("INCOMPLETE, rig fault" + cause);
            case INCOMPLETE -> marks.add("INCOMPLETE" + cause);
        }
        CalibrationState calibration = CalibrationState.of(run, judgement);
        if (!calibration.allowsSignOff()) {
            marks.add("NOT FOR SIGN-OFF: " + calibration.words());
        }
        if (judgement.overall() == Verdict.NOT_JUDGED) {
            marks.add("NOT JUDGED: at least one limit could not be judged");
        }
        return marks;
    }

    /** The verdict of a run: withheld while nobody knows whether the bench it was found on is off. */
    public static String verdict(RunData run, Judgement judgement) {
        String words = judgement.overall().words();
        return run.outcome().safeState() == SafeState.CONFIRMED
                ? words
                : "withheld, load and unit are not confirmed to be off (the readings alone: " + words + ")";
    }

    /** The ratio of tolerance to uncertainty; empty where there is none. */
    static String ratio(Check check) {
        if (check.testUncertaintyRatio().isEmpty()) {
            return "";
        }
        double ratio = check.testUncertaintyRatio().getAsDouble();
        return ratio < 100
                ? String.format(Locale.ROOT, "%.1f", ratio)
                : ratio < 1000 ? Math.round(ratio) + "" : "> 999";
    }

    /** How sure it is that everything is off. */
    public static String safeState(SafeState state) {
        return switch (state) {
            case CONFIRMED -> "off, read back from the devices";
            case COMMANDED -> "off commanded, could not be read back";
            case UNKNOWN -> "NOT KNOWN TO BE OFF";
        };
    }

    /** The heading over a sign-off. */
    static String signOffTitle(SignOff signOff) {
        return signOff.training() ? "Signed off as an exercise: TRAINING, no real unit" : "Signed off";
    }
}
