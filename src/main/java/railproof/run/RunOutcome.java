package railproof.run;

import java.util.List;

/**
 * How a run ended.
 *
 * @param end what kind of end
 * @param cause the first cause in words; empty when completed
 * @param later causes that came after the first
 * @param safeState how sure it is that everything is off
 */
public record RunOutcome(End end, String cause, List<String> later, SafeState safeState) {
    public RunOutcome {
        later = List.copyOf(later);
    }

    /** The kinds of end. */
    public enum End {
        /** All procedures done. */
        COMPLETED,
        /** A measured value crossed the envelope: the unit was protected from the test, or the rig from the unit. */
        TRIPPED,
        /** Somebody stopped it. */
        STOPPED,
        /** The rig failed: link, instrument, file, program. */
        FAULTED,
        /** The record ends without an end: the program was killed. Only ever read, never written. */
        INCOMPLETE
    }

    /** Whether every planned point was taken. */
    public boolean completed() {
        return end == End.COMPLETED;
    }
}
