package railproof.sim.device;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.zip.CRC32;

/**
 * The block capture of the simulated board: a ring of scans with a trigger in it.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class Capture {
    static final int IDLE = 0;
    static final int WAIT_TRIGGER = 1;
    static final int FILLING = 2;
    static final int DONE = 3;
    static final int ABORTED = 4;

    static final int IMMEDIATE = 0;
    static final int HOST = 1;
    static final int LEVEL_RISE = 2;
    static final int LEVEL_FALL = 3;
    static final int LOAD_ENABLE_EDGE = 4;
    static final int FAULT = 5;

    /** What was configured. */
    record Plan(
            int id,
            int mask,
            int trigger,
            int triggerChannel,
            long periodTicks,
            int scans,
            int preScans,
            int level,
            long timeoutMs) {}

    private final Plan plan;
    private final int channels;
    private final short[] ring;
    private int state = IDLE;
    private long startTicks;
    private long taken;
    private long triggerAt = -1;
    private boolean triggerPending;
    private int lastLevelCode;

    Capture(Plan plan) {
        this.plan = plan;
        channels = Integer.bitCount(plan.mask());
        ring = new short[plan.scans() * channels];
    }

    Plan plan() {
        return plan;
    }

    int state() {
        return state;
    }

    boolean running() {
        return state == WAIT_TRIGGER || state == FILLING;
    }

    void start(long firstTicks) {
        startTicks = firstTicks;
        taken = 0;
        triggerAt = -1;
        triggerPending = plan.trigger() == IMMEDIATE;
        state = plan.trigger() == IMMEDIATE ? FILLING : WAIT_TRIGGER;
    }

    void abort() {
        if (state != DONE) {
            state = ABORTED;
        }
    }

    /** The trigger fell; the next scan is the first at or after it. */
    void trigger() {
        if (state == WAIT_TRIGGER) {
            triggerPending = true;
        }
    }

    /** A source of triggers had an edge. */
    void edge(int source) {
        if (plan.trigger() == source) {
            trigger();
        }
    }

    long nextTicks() {
        return startTicks + taken * plan.periodTicks();
    }

    /** The tick of the last scan, if the trigger has fallen; otherwise that of the next scan. */
    long speechTicks() {
        return triggerAt < 0 ? nextTicks() : startTicks + (firstScan() + plan.scans() - 1) * plan.periodTicks();
    }

    /** Takes a scan; true if the capture became complete with it. */
    boolean take(int[] codes) {
        watchLevel(codes);
        if (triggerPending && triggerAt < 0) {
            triggerAt = taken;
            state = FILLING;
        }
        int at = (int) (taken % plan.scans()) * channels;
        for (int c = 0; c < AdcChannel.MAX_COUNT; c++) {
            if ((plan.mask() >> c & 1) != 0) {
                ring[at++] = (short) codes[c];
            }
        }
        taken++;
        if (triggerAt >= 0 && taken == firstScan() + plan.scans()) {
            state = DONE;
            return true;
        }
        if (triggerAt < 0 && timedOut()) {
            state = ABORTED;
        }
        return false;
    }

    private boolean timedOut() {
        return plan.timeoutMs() > 0 && taken * plan.periodTicks() >= plan.timeoutMs() * SimulatedBoard.TICKS_PER_MS;
    }

    private void watchLevel(int[] codes) {
        int code = codes[plan.triggerChannel()];
        boolean risen = lastLevelCode < plan.level() && code >= plan.level();
        boolean fallen = lastLevelCode > plan.level() && code <= plan.level();
        boolean wanted = plan.trigger() == LEVEL_RISE ? risen : plan.trigger() == LEVEL_FALL && fallen;
        if (taken > 0 && wanted) {
            trigger();
        }
        lastLevelCode = code;
    }

    /** Number of the block's first scan, counted from the start; a trigger that came early leaves fewer before it. */
    private long firstScan() {
        return Math.max(0, triggerAt - plan.preScans());
    }

    long filled() {
        return Math.min(taken, plan.scans());
    }

    long blockStartTicks() {
        return state == DONE ? startTicks + firstScan() * plan.periodTicks() : 0;
    }

    long triggerScan() {
        return state == DONE ? triggerAt - firstScan() : 0;
    }

    long blockCrc() {
        if (state != DONE) {
            return 0;
        }
        CRC32 crc = new CRC32();
        crc.update(bytes(0, plan.scans()));
        return crc.getValue();
    }

    int bytesPerScan() {
        return 2 * channels;
    }

    /** Samples of the finished block, as they go on the wire. */
    byte[] bytes(int offset, int count) {
        ByteBuffer out = ByteBuffer.allocate(count * bytesPerScan()).order(ByteOrder.LITTLE_ENDIAN);
        for (int scan = offset; scan < offset + count; scan++) {
            int at = (int) ((firstScan() + scan) % plan.scans()) * channels;
            for (int k = 0; k < channels; k++) {
                out.putShort(ring[at + k]);
            }
        }
        return out.array();
    }
}
