package railproof.base;

import java.time.Instant;
import java.util.concurrent.TimeUnit;

/** The machine's own clock. Thread: any. */
public final class SystemClock implements Clock {
    /** The one instance: it has no state. */
    public static final SystemClock INSTANCE = new SystemClock();

    private SystemClock() {}

    @Override
    public long nowNs() {
        return System.nanoTime();
    }

    @Override
    public Instant wallTime() {
        return Instant.now();
    }

    @Override
    public void sleepNs(long durationNs) throws InterruptedException {
        if (durationNs > 0) {
            TimeUnit.NANOSECONDS.sleep(durationNs);
        }
    }
}
