package railproof.rig;

import railproof.run.RunOutcome;

/**
 * Unwinds a procedure because the run is over before its last point. Thrown by every {@link Bench} method; procedures
 * let it pass, the control thread turns it into the run's outcome.
 */
public final class RunEndException extends Exception {
    private final RunOutcome.End end;

    /**
     * Ends the run.
     *
     * @param end what kind of end; not COMPLETED
     * @param cause why, in words a technician understands
     */
    public RunEndException(RunOutcome.End end, String cause) {
        super(cause);
        this.end = end;
    }

    /** Ends the run because of trouble further down. */
    public RunEndException(RunOutcome.End end, String cause, Throwable trouble) {
        super(cause, trouble);
        this.end = end;
    }

    /** What kind of end. */
    public RunOutcome.End end() {
        return end;
    }
}
