package railproof.sim.device;

import java.util.List;

/**
 * What kind of board is simulated.
 *
 * @param model at most 16 bytes
 * @param serial at most 16 bytes
 * @param channels analogue inputs, 1 to 16
 * @param relayCount relays, 0 to 32
 * @param interlockMask digital inputs that must be closed while armed; all inputs are closed at the start
 * @param hotRelays relays that may be switched with load-enable on
 * @param bufferSamples capture memory, samples over all channels
 * @param maxPayload longest payload, 256 to 4096 bytes
 * @param loadOffMs from load-enable low to relays released, ms
 * @param relaySettleMs operate and release time of the relays, ms
 * @param bootMs time spent in BOOT after a reset, ms
 * @param seed of noise, boot ids and tokens
 * @param clockErrorRatio how much too fast the device clock runs, and with it every sample: 80e-6 is 80 ppm; at most
 *     1000 ppm either way
 */
public record BoardSettings(
        String model,
        String serial,
        List<AdcChannel> channels,
        int relayCount,
        int interlockMask,
        int hotRelays,
        int bufferSamples,
        int maxPayload,
        int loadOffMs,
        int relaySettleMs,
        int bootMs,
        long seed,
        double clockErrorRatio) {
    private static final double MOST_CLOCK_ERROR_RATIO = 1e-3;

    public BoardSettings {
        channels = List.copyOf(channels);
        requireRange("channels", channels.size(), 1, AdcChannel.MAX_COUNT);
        requireRange("relays", relayCount, 0, 32);
        requireRange("max payload", maxPayload, 256, 4096);
        requireRange("load-off ms", loadOffMs, 1, 100);
        requireRange("relay settle ms", relaySettleMs, 1, 1000);
        if (!(Math.abs(clockErrorRatio) <= MOST_CLOCK_ERROR_RATIO)) {
            throw new IllegalArgumentException(
                    "clock error must be -0.001 to 0.001, got " + clockErrorRatio + "; 80e-6 is 80 ppm");
        }
    }

    private static void requireRange(String what, int value, int min, int max) {
        if (value < min || value > max) {
            throw new IllegalArgumentException(what + " must be " + min + " to " + max + ", got " + value);
        }
    }

    /** A board with eight relays, one interlock, and 128 Ki samples of memory. */
    public static BoardSettings standard(String serial, List<AdcChannel> channels, long seed) {
        return new BoardSettings("bench-sim", serial, channels, 8, 1, 0, 131_072, 1024, 10, 8, 5, seed, 0);
    }

    /** The same board with another crystal. */
    public BoardSettings withClockErrorRatio(double otherRatio) {
        return new BoardSettings(
                model,
                serial,
                channels,
                relayCount,
                interlockMask,
                hotRelays,
                bufferSamples,
                maxPayload,
                loadOffMs,
                relaySettleMs,
                bootMs,
                seed,
                otherRatio);
    }

    int relayMask() {
        return relayCount == 32 ? -1 : (1 << relayCount) - 1;
    }

    int channelMask() {
        return -1 >>> (AdcChannel.MAX_COUNT - channels.size());
    }
}
