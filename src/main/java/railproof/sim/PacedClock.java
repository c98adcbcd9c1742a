package railproof.sim;

import java.time.Instant;
import railproof.base.Clock;

/**
 * A clock for a simulated bench that people watch: starts at zero and runs with the wall clock, or so many times as
 * fast.
 *
 * <p>Thread: any.
 */
public final class PacedClock implements Clock {
    private final Clock wall;
    private final double paceRatio;
    private final long startNs;

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
    public long nowNs() {
        return Math.round((wall.nowNs() - startNs) * paceRatio);
    }

    @Override
    public Instant wallTime() {
        return wall.wallTime();
    }

    @Override
    public void sleepNs(long durationNs) throws InterruptedException {
        wall.sleepNs(Math.round(durationNs / paceRatio));
    }
}
