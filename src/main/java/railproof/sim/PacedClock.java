package railproof.sim;

import java.time.Instant;
import java.util.OptionalLong;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import railproof.base.Clock;
import railproof.wire.Peer;

/**
 * A clock for a simulated bench that people watch: starts at zero and runs with the wall clock, or so many times as
 * fast, as long as the machine can keep up.
 *
 * <p>While the bench is being worked out the clock stands still, and afterwards it makes up for no more than
 * {@value #CATCH_UP_MS} ms. On a machine too slow or too busy for the pace it goes slower: otherwise each stretch would
 * take longer to work out than the one before, until whatever watches over silence took the bench for dead. Silence of
 * the program itself, outside the bench, takes its full time.
 *
 * <p>Thread: any.
 */
public final class PacedClock implements Clock {
    /** As long as the longest wait of a control thread, so that a bench that just keeps up loses nothing. */
    static final long CATCH_UP_MS = 20;

    private final Clock wall;
    private final double paceRatio;
    private final long startNs;
    private long lostNs;
    private int working;
    private long standsAtNs;

    /**
     * Starts now.
     *
     * @param wall the machine's clock
     * @param paceRatio simulated seconds per second; greater than zero
     */
    public PacedClock(Clock wall, double paceRatio) {
        if (!(paceRatio > 0) || !Double.isFinite(paceRatio)) {
            throw new IllegalArgumentException("pace must be above zero, got " + paceRatio);
        }
        this.wall = wall;
        this.paceRatio = paceRatio;
        this.startNs = wall.nowNs();
    }

    @Override
    public synchronized long nowNs() {
        return working > 0 ? standsAtNs : runningNs();
    }

    private long runningNs() {
        return Math.round((wall.nowNs() - startNs) * paceRatio) - lostNs;
    }

    /** By how much simulated time has fallen behind its pace so far, ns. */
    public synchronized long behindNs() {
        return lostNs;
    }

    @Override
    public Instant wallTime() {
        return wall.wallTime();
    }

    @Override
    public void sleepNs(long durationNs) throws InterruptedException {
        wall.sleepNs(Math.round(durationNs / paceRatio));
    }

    /** Works something out about the bench, on the caller's thread, with the clock standing. */
    public void work(Runnable task) {
        begin();
        try {
            task.run();
        } finally {
            end();
        }
    }

    private synchronized void begin() {
        if (working == 0) {
            standsAtNs = runningNs();
        }
        working++;
    }

    private synchronized void end() {
        working--;
        if (working == 0) {
            long lateNs = runningNs() - standsAtNs - TimeUnit.MILLISECONDS.toNanos(CATCH_UP_MS);
            lostNs += Math.max(0, lateNs);
        }
    }

    /** The same device, worked out with the clock standing. */
    public Peer paced(Peer device) {
        return new Peer() {
            @Override
            public void receive(byte[] bytes, Consumer<byte[]> reply) {
                work(() -> device.receive(bytes, reply));
            }

            @Override
            public void advanceTo(long nowNs, Consumer<byte[]> reply) {
                work(() -> device.advanceTo(nowNs, reply));
            }

            @Override
            public OptionalLong nextEventNs() {
                return device.nextEventNs();
            }
        };
    }
}
