package railproof.instrument;

/**
 * A finished capture, in raw ADC codes, complete (no holes) and checked against the board's block checksum.
 *
 * <p>Thread: immutable after construction by convention; arrays are handed over, not copied, because blocks are large.
 */
public final class CaptureBlock {
    private final int[] channels;
    private final int[][] codes;
    private final long startTicks;
    private final long periodTicks;
    private final int triggerSample;

    /**
     * A capture that began with its trigger. Takes ownership of the arrays.
     *
     * @param channels board channel indices, ascending
     * @param codes {@code codes[k][i]} is sample i of {@code channels[k]}
     * @param startTicks device time of sample 0
     * @param periodTicks device ticks between samples
     */
    public CaptureBlock(int[] channels, int[][] codes, long startTicks, long periodTicks) {
        this(channels, codes, startTicks, periodTicks, 0);
    }

    /**
     * Takes ownership of the arrays.
     *
     * @param channels board channel indices, ascending
     * @param codes {@code codes[k][i]} is sample i of {@code channels[k]}
     * @param startTicks device time of sample 0
     * @param periodTicks device ticks between samples
     * @param triggerSample first sample at or after the trigger
     */
    public CaptureBlock(int[] channels, int[][] codes, long startTicks, long periodTicks, int triggerSample) {
        if (channels.length != codes.length) {
            throw new IllegalArgumentException(channels.length + " channels but " + codes.length + " sample rows");
        }
        this.channels = channels;
        this.codes = codes;
        this.startTicks = startTicks;
        this.periodTicks = periodTicks;
        this.triggerSample = triggerSample;
    }

    /** Samples of one board channel. */
    public int[] codes(int channel) {
        for (int k = 0; k < channels.length; k++) {
            if (channels[k] == channel) {
                return codes[k];
            }
        }
        throw new IllegalArgumentException("channel " + channel + " was not captured");
    }

    /** Device time of sample 0. */
    public long startTicks() {
        return startTicks;
    }

    /** Device ticks between samples. */
    public long periodTicks() {
        return periodTicks;
    }

    /** First sample at or after the trigger; those before it are the pre-trigger samples. */
    public int triggerSample() {
        return triggerSample;
    }
}
