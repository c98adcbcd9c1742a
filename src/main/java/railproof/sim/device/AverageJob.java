package railproof.sim.device;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;

/**
 * One ANALOG_READ under way: sums deviations from each channel's first sample.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class AverageJob {
    private static final int HEADER = 20;
    private static final int PER_CHANNEL = 28;

    private final int mask;
    private final int samples;
    private final long periodTicks;
    private final long startTicks;
    private final int[] first = new int[AdcChannel.MAX_COUNT];
    private final int[] lowest = new int[AdcChannel.MAX_COUNT];
    private final int[] highest = new int[AdcChannel.MAX_COUNT];
    private final long[] sum = new long[AdcChannel.MAX_COUNT];
    private final long[] squares = new long[AdcChannel.MAX_COUNT];
    private int taken;

    AverageJob(int mask, int samples, long periodTicks, long startTicks) {
        this.mask = mask;
        this.samples = samples;
        this.periodTicks = periodTicks;
        this.startTicks = startTicks;
    }

    static int answerLength(int mask) {
        return HEADER + PER_CHANNEL * Integer.bitCount(mask);
    }

    int mask() {
        return mask;
    }

    boolean done() {
        return taken == samples;
    }

    long nextTicks() {
        return startTicks + taken * periodTicks;
    }

    long lastTicks() {
        return startTicks + (samples - 1) * periodTicks;
    }

    void take(int[] codes) {
        for (int c = 0; c < AdcChannel.MAX_COUNT; c++) {
            if ((mask >> c & 1) == 0) {
                continue;
            }
            if (taken == 0) {
                first[c] = codes[c];
                lowest[c] = codes[c];
                highest[c] = codes[c];
            }
            lowest[c] = Math.min(lowest[c], codes[c]);
            highest[c] = Math.max(highest[c], codes[c]);
            long deviation = (long) codes[c] - first[c];
            sum[c] += deviation;
            squares[c] += deviation * deviation;
        }
        taken++;
    }

    byte[] answer() {
        ByteBuffer out = ByteBuffer.allocate(answerLength(mask)).order(ByteOrder.LITTLE_ENDIAN);
        out.putLong(startTicks)
                .putInt(mask)
                .putShort((short) samples)
                .putShort((short) 0)
                .putInt((int) periodTicks);
        for (int c = 0; c < AdcChannel.MAX_COUNT; c++) {
            if ((mask >> c & 1) != 0) {
                out.putInt(first[c])
                        .putInt(lowest[c])
                        .putInt(highest[c])
                        .putLong(sum[c])
                        .putLong(squares[c]);
            }
        }
        return out.array();
    }
}
