package railproof.sim.device;

/**
 * The device clock: ticks since the last reset, counted by a crystal that may be off. Whole numbers throughout, so that
 * the instant of a tick and the tick of that instant agree however long the board has run.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class BoardTime {
    private static final long NS_PER_TICK = 1_000_000 / SimulatedBoard.TICKS_PER_MS;
    private static final long NS_PER_S = 1_000_000_000;

    /** Nanoseconds that the crystal gains in a second: parts per thousand million. */
    private final long gainedNs;

    private long resetNs;

    /**
     * A clock.
     *
     * @param errorRatio how much too fast it runs; 80e-6 is 80 ppm
     */
    BoardTime(double errorRatio) {
        gainedNs = Math.round(errorRatio * NS_PER_S);
    }

    void reset(long nowNs) {
        resetNs = nowNs;
    }

    long ticks(long nowNs) {
        return shownNs(nowNs - resetNs) / NS_PER_TICK;
    }

    /** What the crystal makes of a true duration. */
    private long shownNs(long trueNs) {
        long wholeS = trueNs / NS_PER_S;
        long restNs = trueNs % NS_PER_S;
        return trueNs + wholeS * gainedNs + Math.floorDiv(restNs * gainedNs, NS_PER_S);
    }

    /** The instant at which the clock reaches {@code ticks}: the first nanosecond that shows them. */
    long ns(long ticks) {
        long wantedNs = ticks * NS_PER_TICK;
        // a double is good for a nanosecond over some hundred days; the loops settle the last one
        long trueNs = Math.round(wantedNs / (1 + (double) gainedNs / NS_PER_S));
        while (shownNs(trueNs) < wantedNs) {
            trueNs++;
        }
        while (shownNs(trueNs - 1) >= wantedNs) {
            trueNs--;
        }
        return resetNs + trueNs;
    }
}
