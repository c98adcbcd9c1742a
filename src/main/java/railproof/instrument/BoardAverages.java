package railproof.instrument;

import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import railproof.wire.LinkException;

/**
 * Readings averaged on the board.
 *
 * <p>Thread: control thread only.
 */
final class BoardAverages {
    private BoardAverages() {}

    static List<ChannelSums> read(
            BoardSession session, PayloadReader can, int channelMask, int samples, long periodTicks)
            throws LinkException, InstrumentException, InterruptedException {
        byte[] payload = BoardMessage.ANALOG_READ
                .request()
                .set("channel_mask", channelMask & 0xFFFFFFFFL)
                .set("samples", samples)
                .set("period_ticks", periodTicks)
                .bytes();
        long workNs = CaptureTransfer.durationNs(samples, periodTicks, can.get("tick_hz"));
        PayloadReader answer = session.ask(new BoardExchange.Call(BoardMessage.ANALOG_READ, workNs, 3), payload);
        session.requireFed();
        int mask = (int) answer.get("channel_mask"); // bit 31 is a channel too
        if (mask != channelMask || answer.groups() != Integer.bitCount(channelMask)) {
            throw new InstrumentException(
                    session.name(),
                    "ANALOG_READ",
                    channels(channelMask),
                    channels(mask) + " with " + answer.groups() + " results");
        }
        List<ChannelSums> sums = new ArrayList<>();
        for (int channel = 0; channel < BoardCapability.MAX_CHANNELS; channel++) {
            if ((channelMask >> channel & 1) != 0) {
                sums.add(sums(answer, channel, sums.size()));
            }
        }
        return List.copyOf(sums);
    }

    private static String channels(int mask) {
        return "channels " + Integer.toBinaryString(mask);
    }

    /** The board sums deviations from the channel's first sample; so nothing is lost to large means. */
    private static ChannelSums sums(PayloadReader answer, int channel, int group) {
        int samples = answer.getInt("samples");
        BigInteger sum = BigInteger.valueOf(answer.get("sum", group));
        BigInteger squares = new BigInteger(Long.toUnsignedString(answer.get("squares", group)));
        double deviation = squares.multiply(BigInteger.valueOf(samples))
                        .subtract(sum.multiply(sum))
                        .doubleValue()
                / samples;
        return new ChannelSums(
                channel,
                samples,
                answer.get("first", group) + sum.doubleValue() / samples,
                (int) answer.get("lowest", group),
                (int) answer.get("highest", group),
                deviation,
                answer.get("start_ticks"));
    }
}
