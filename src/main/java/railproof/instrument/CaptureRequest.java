package railproof.instrument;

import java.time.Duration;

/**
 * A block capture to be made.
 *
 * @param channelMask bit i set: channel i is captured; at least one bit; bit 31, the sign, is channel 31
 * @param periodTicks device ticks between samples of one channel; at least 1
 * @param samplesPerChannel how many samples of each channel; at least 1
 * @param preTriggerSamples how many of them lie before the trigger; fewer than samplesPerChannel; 0 for an immediate
 *     capture. A trigger that falls before so many were taken is taken all the same: {@link CaptureBlock#triggerSample}
 *     tells where it lies
 * @param trigger what starts it
 * @param patience how long the trigger is waited for, counted from the start; above zero, at most 10 minutes
 */
public record CaptureRequest(
        int channelMask,
        long periodTicks,
        int samplesPerChannel,
        int preTriggerSamples,
        CaptureTrigger trigger,
        Duration patience) {
    private static final Duration ORDINARY_PATIENCE = Duration.ofSeconds(10);
    private static final Duration LONGEST_PATIENCE = Duration.ofMinutes(10);

    public CaptureRequest {
        require(channelMask != 0, "no channel");
        require(periodTicks >= 1 && periodTicks <= 0xFFFFFFFFL, "period must be 1 to 2^32-1 ticks, got " + periodTicks);
        require(samplesPerChannel >= 1, "at least one sample of each channel, got " + samplesPerChannel);
        require(
                preTriggerSamples >= 0 && preTriggerSamples < samplesPerChannel,
                "samples before the trigger must be 0 to " + (samplesPerChannel - 1) + ", got " + preTriggerSamples);
        require(
                preTriggerSamples == 0 || !(trigger instanceof CaptureTrigger.Immediate),
                "an immediate capture has nothing before its trigger");
        require(
                !(trigger instanceof CaptureTrigger.Level level) || (channelMask >> level.channel() & 1) != 0,
                "the channel of the trigger is not captured");
        require(
                patience.toMillis() >= 1 && patience.compareTo(LONGEST_PATIENCE) <= 0,
                "patience must be 1 ms to 10 min, got " + patience);
    }

    private static void require(boolean met, String otherwise) {
        if (!met) {
            throw new IllegalArgumentException(otherwise);
        }
    }

    /** A capture that starts at once. */
    public static CaptureRequest now(int channelMask, long periodTicks, int samplesPerChannel) {
        return new CaptureRequest(
                channelMask, periodTicks, samplesPerChannel, 0, new CaptureTrigger.Immediate(), ORDINARY_PATIENCE);
    }

    /** A capture that waits for its trigger, 10 s at most. */
    public static CaptureRequest on(
            CaptureTrigger trigger, int channelMask, long periodTicks, int samplesPerChannel, int preTriggerSamples) {
        return new CaptureRequest(
                channelMask, periodTicks, samplesPerChannel, preTriggerSamples, trigger, ORDINARY_PATIENCE);
    }
}
