package railproof.sim.device;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayDeque;
import java.util.Deque;

/**
 * A stream of the simulated board: scans wait in the capture memory until there is credit for a frame of them. What is
 * held is one piece without a gap: after a loss nothing is taken in until all that was held is out.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class Stream {
    /** A frame goes out at the latest so long after its first scan; the page allows 100 ms. */
    private static final long PATIENCE_TICKS = 50 * SimulatedBoard.TICKS_PER_MS;

    private static final int MOST_CREDITS = 0xFFFF;

    /**
     * What was asked for.
     *
     * @param perFrame scans that fit one frame
     * @param capacity scans that fit the capture memory
     */
    record Plan(int id, int mask, long periodTicks, int perFrame, int capacity) {
        int bytesPerScan() {
            return 2 * Integer.bitCount(mask);
        }
    }

    private final Plan plan;
    private final long startTicks;
    private final Deque<short[]> held = new ArrayDeque<>();
    private long baseScan;
    private long taken;
    private long dropped;
    private int credits;
    private boolean full;

    Stream(Plan plan, long startTicks, int credits) {
        this.plan = plan;
        this.startTicks = startTicks;
        this.credits = credits;
    }

    Plan plan() {
        return plan;
    }

    long startTicks() {
        return startTicks;
    }

    /** Scans since the start, lost ones included. */
    long taken() {
        return taken;
    }

    long dropped() {
        return dropped;
    }

    /** More frames that may go; how many may go now. */
    int credit(int frames) {
        credits = Math.min(MOST_CREDITS, credits + frames);
        return credits;
    }

    long nextTicks() {
        return startTicks + taken * plan.periodTicks();
    }

    /** Takes a scan. */
    void take(int[] codes) {
        if (held.isEmpty()) {
            full = false;
            baseScan = taken;
        }
        taken++;
        if (full || held.size() == plan.capacity()) {
            full = true;
            dropped++;
            return;
        }
        short[] scan = new short[Integer.bitCount(plan.mask())];
        int at = 0;
        for (int c = 0; c < AdcChannel.MAX_COUNT; c++) {
            if ((plan.mask() >> c & 1) != 0) {
                scan[at++] = (short) codes[c];
            }
        }
        held.addLast(scan);
    }

    private long patienceTicks() {
        return startTicks + baseScan * plan.periodTicks() + PATIENCE_TICKS;
    }

    /** Whether a frame goes out now. */
    boolean due(long nowTicks) {
        return credits > 0
                && !held.isEmpty()
                && (full || held.size() >= plan.perFrame() || nowTicks >= patienceTicks());
    }

    /** The next tick at which a frame goes out, if credit and memory stay as they are; {@link Long#MAX_VALUE} for never. */
    long speechTicks() {
        if (credits == 0) {
            return Long.MAX_VALUE;
        }
        if (held.isEmpty()) {
            return nextTicks() + Math.min(PATIENCE_TICKS, (plan.perFrame() - 1L) * plan.periodTicks());
        }
        long missing = Math.max(0, plan.perFrame() - held.size());
        long filledTicks = missing == 0 || full ? nextTicks() : nextTicks() + (missing - 1) * plan.periodTicks();
        return Math.min(patienceTicks(), filledTicks);
    }

    /** Number of the oldest scan held. */
    long oldestScan() {
        return baseScan;
    }

    /** Uses up a credit for the oldest scans held: samples as they go on the wire. */
    byte[] send() {
        credits--;
        int scans = Math.min(held.size(), plan.perFrame());
        ByteBuffer out = ByteBuffer.allocate(scans * plan.bytesPerScan()).order(ByteOrder.LITTLE_ENDIAN);
        for (int k = 0; k < scans; k++) {
            for (short code : held.removeFirst()) {
                out.putShort(code);
            }
        }
        baseScan += scans;
        return out.array();
    }
}
