package railproof.base;

import java.time.Instant;

/**
 * Time, injected: nothing outside {@code base} and the simulation reads the machine's clock.
 *
 * <p>Thread: implementations are safe for use from any thread unless they say otherwise.
 */
public interface Clock {
    /** Monotonic time in nanoseconds from an arbitrary origin; only differences mean anything. */
    long nowNs();

    /** Wall time, for records only; never for deadlines, because it may be set back. */
    Instant wallTime();

    /**
     * Waits. A virtual clock returns at once, moved on by {@code durationNs}.
     *
     * @param durationNs nanoseconds to wait; zero or negative returns at once
     * @throws InterruptedException if the thread is interrupted while waiting
     */
    void sleepNs(long durationNs) throws InterruptedException;
}
