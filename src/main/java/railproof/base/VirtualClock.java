package railproof.base;

import java.time.Instant;
import java.util.concurrent.atomic.AtomicLong;

/**
 * Time that moves only when somebody waits or moves it. Used by the simulated bench (a sweep of minutes takes
 * seconds) and by tests. Deterministic as long as one thread waits on it.
 *
 * <p>Thread: any; concurrent waits add up.
 */
public final class VirtualClock implements Clock {
    private final AtomicLong nowNs = new AtomicLong();
    private final Instant epoch;

    /**
     * A clock standing at zero.
     *
     * @param epoch the wall time at zero
     */
    public VirtualClock(Instant epoch) {
        this.epoch = epoch;
    }

    @Override
    public long nowNs() {
        return nowNs.get();
    }

    @Override
    public Instant wallTime() {
        return epoch.plusNanos(nowNs.get());
    }

    @Override
    public void sleepNs(long durationNs) throws InterruptedException {
        if (Thread.interrupted()) {
            throw new InterruptedException("interrupted before a wait of " + durationNs + " ns");
        }
        if (durationNs > 0) {
            nowNs.addAndGet(durationNs);
        }
    }

    /** Moves time on to {@code targetNs} if it is later than now; never back. */
    public void advanceTo(long targetNs) {
        nowNs.accumulateAndGet(targetNs, Math::max);
    }
}
