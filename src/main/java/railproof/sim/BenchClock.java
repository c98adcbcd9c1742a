package railproof.sim;

import java.time.Instant;
import railproof.base.Clock;
import railproof.base.VirtualClock;

/**
 * The virtual clock of a simulated bench: whoever waits on it takes the whole bench along, so that the bench's steps
 * depend on the waits alone.
 *
 * <p>Thread: any; deterministic as long as one thread waits.
 */
public final class BenchClock implements Clock {
    private final VirtualClock time;
    private final SimulatedBench bench;

    /**
     * A clock standing at zero.
     *
     * @param epoch wall time at zero
     */
    public BenchClock(SimulatedBench bench, Instant epoch) {
        this.bench = bench;
        this.time = new VirtualClock(epoch);
    }

    @Override
    public long nowNs() {
        return time.nowNs();
    }

    @Override
    public Instant wallTime() {
        return time.wallTime();
    }

    @Override
    public void sleepNs(long durationNs) throws InterruptedException {
        time.sleepNs(durationNs);
        bench.bringTo(time.nowNs());
    }
}
