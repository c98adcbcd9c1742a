package railproof.instrument;

/**
 * A block capture to be made.
 *
 * @param channelMask bit i set: channel i is captured; at least one bit; bit 31, the sign, is channel 31
 * @param periodTicks device ticks between samples of one channel; at least 1
 * @param samplesPerChannel how many samples of each channel; at least 1
 * @param preTriggerSamples how many of them lie before the trigger; 0 for an immediate capture
 * @param trigger what starts it
 */
public record CaptureRequest(
        int channelMask, long periodTicks, int samplesPerChannel, int preTriggerSamples, Trigger trigger) {
    /** What starts a capture. */
    public enum Trigger {
        /** At once. */
        IMMEDIATE,
        /** When load-enable changes. */
        LOAD_ENABLE_EDGE
    }

    /** A capture that starts at once. */
    public static CaptureRequest now(int channelMask, long periodTicks, int samplesPerChannel) {
        return new CaptureRequest(channelMask, periodTicks, samplesPerChannel, 0, Trigger.IMMEDIATE);
    }
}
