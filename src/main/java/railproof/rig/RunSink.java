package railproof.rig;

import java.io.IOException;
import railproof.run.RunEvent;

/**
 * Where a run's events go as it goes.
 *
 * <p>Thread: called by the control thread only.
 */
@FunctionalInterface
public interface RunSink {
    /**
     * Hands over one event. Must not block: a disk that takes its time must not starve the bench's heartbeat.
     *
     * @return says when it is kept
     */
    Receipt accept(RunEvent event);

    /** Says whether a handed-over event is kept for good. */
    @FunctionalInterface
    interface Receipt {
        /** Already kept. */
        Receipt KEPT = waitMs -> true;

        /**
         * Waits a little.
         *
         * @param waitMs longest wait, ms of real time
         * @return whether the event is kept; false: ask again
         * @throws IOException if it cannot be kept; the run ends with that as its cause
         */
        boolean kept(int waitMs) throws IOException, InterruptedException;
    }
}
