package railproof.judge;

import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.run.RunData;
import railproof.run.RunOutcome;

/**
 * Whether the unit stayed inside what protects it and the rig. A unit that was switched off by the rig because it gave
 * over-voltage or the wrong polarity has failed, whatever else could still be measured.
 */
final class Envelope {
    /** Stands where a check has no rail of its own. */
    static final String WHOLE_UNIT = "all";

    private Envelope() {}

    /** The number of trips, of which none is allowed. */
    static Check check(RunData run) {
        RunOutcome outcome = run.outcome();
        String cause = outcome.cause().isBlank() ? "the run has no end" : outcome.cause();
        return switch (outcome.end()) {
            case COMPLETED -> check(Measured.of(0, 0, Unit.COUNT), Verdict.PASS, "");
            case TRIPPED -> check(Measured.of(1, 0, Unit.COUNT), Verdict.FAIL, cause);
            case STOPPED, FAULTED, INCOMPLETE ->
                check(new Missing(cause), Verdict.NOT_JUDGED, "the run ended early: " + cause);
        };
    }

    private static Check check(Reading trips, Verdict verdict, String detail) {
        return new Check(
                "envelope",
                "Trips of the rig's protection",
                WHOLE_UNIT,
                trips,
                0,
                2,
                Band.atMost(0),
                Unit.COUNT,
                verdict,
                detail);
    }
}
