package railproof.instrument;

/**
 * What the board can do, from its own mouth.
 *
 * @param channelCount analogue inputs, 1 to 32
 * @param tickHz device clock rate, ticks per second
 * @param bufferSamples capture memory, samples over all channels
 * @param maxRateHz highest sample rate of one channel, samples per second
 * @param codeBits resolution of a sample, bits
 * @param heartbeatMinMs shortest heartbeat timeout, ms
 * @param heartbeatMaxMs longest heartbeat timeout, ms
 */
public record BoardCapability(
        int channelCount,
        long tickHz,
        int bufferSamples,
        double maxRateHz,
        int codeBits,
        int heartbeatMinMs,
        int heartbeatMaxMs) {
    /** Most analogue inputs a board may have: a mask of channels has 32 bits. */
    public static final int MAX_CHANNELS = 32;
}
