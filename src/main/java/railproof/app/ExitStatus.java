package railproof.app;

import java.util.Optional;
import railproof.judge.Judgement;
import railproof.run.RunOutcome;
import railproof.run.SafeState;

/** The documented exit statuses; scripts depend on them. */
public enum ExitStatus {
    /** Everything passed. */
    PASSED(0),
    /** The unit failed a limit. */
    UNIT_FAILED(1),
    /** Bad command line or bad file. */
    BAD_INPUT(2),
    /** Rig trouble or a stop; made safe, and confirmed. */
    RIG_TROUBLE(3),
    /** Not judged, or conditional. */
    NOT_JUDGED(4),
    /** The safe state is not confirmed: look at the bench. */
    NOT_SAFE(5);

    private final int code;

    ExitStatus(int code) {
        this.code = code;
    }

    /** The number. */
    public int code() {
        return code;
    }

    /** The status of a run. */
    public static ExitStatus of(RunOutcome outcome, Optional<Judgement> judgement) {
        if (outcome.safeState() != SafeState.CONFIRMED) {
            return NOT_SAFE;
        }
        return switch (outcome.end()) {
            case FAULTED, STOPPED, INCOMPLETE -> RIG_TROUBLE;
            case TRIPPED, COMPLETED -> judgement.map(ExitStatus::of).orElse(NOT_JUDGED);
        };
    }

    /** The status of an archived run judged again: what was not confirmed off is no pass. */
    public static ExitStatus ofArchived(RunOutcome outcome, Judgement judgement) {
        ExitStatus status = of(judgement);
        return status == PASSED && outcome.safeState() != SafeState.CONFIRMED ? NOT_JUDGED : status;
    }

    /** The status of a judgement alone. */
    private static ExitStatus of(Judgement judgement) {
        return switch (judgement.overall()) {
            case PASS -> PASSED;
            case FAIL -> UNIT_FAILED;
            case CONDITIONAL_PASS, CONDITIONAL_FAIL, NOT_JUDGED -> NOT_JUDGED;
        };
    }
}
