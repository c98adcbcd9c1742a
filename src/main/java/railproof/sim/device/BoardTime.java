package railproof.sim.device;

/**
 * The device clock: ticks since the last reset.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class BoardTime {
    private static final long NS_PER_TICK = 1_000_000 / SimulatedBoard.TICKS_PER_MS;

    private long resetNs;

    void reset(long nowNs) {
        resetNs = nowNs;
    }

    long ticks(long nowNs) {
        return (nowNs - resetNs) / NS_PER_TICK;
    }

    /** The instant at which the clock reaches {@code ticks}. */
    long ns(long ticks) {
        return resetNs + ticks * NS_PER_TICK;
    }
}
