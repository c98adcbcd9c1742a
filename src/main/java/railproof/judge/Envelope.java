package railproof.judge;

import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.run.RunData;
import railproof.run.RunOutcome;

/**
 * Whether the unit stayed inside what protects it and the rig. A unit that was switched off by the rig because it gave
 * over-voltage or the wrong polarity has failed, whatever else could still be measured.
 */
final class Envelope {
    private Envelope() {}

    /** The number of trips, of which none is allowed. */
    static Check check(RunData run) {
        RunOutcome outcome = run.outcome();
        boolean tripped = outcome.end() == RunOutcome.End.TRIPPED;
        Verdict verdict = tripped ? Verdict.FAIL : outcome.completed() ? Verdict.PASS : Verdict.NOT_JUDGED;
        String detail = tripped || !outcome.completed() ? outcome.cause() : "";
        return new Check(
                "envelope",
                "Trips of the rig's protection",
                "all",
                Measured.of(tripped ? 1 : 0, 0, Unit.COUNT),
                0,
                2,
                Band.atMost(0),
                Unit.COUNT,
                verdict,
                detail);
    }
}
