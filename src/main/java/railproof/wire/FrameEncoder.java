package railproof.wire;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.Arrays;
import java.util.zip.CRC32;

/**
 * Frame to bytes. The checksum is CRC-32/ISO-HDLC (poly 04C11DB7, init FFFFFFFF, reflected, xorout FFFFFFFF, check
 * CBF43926), stored little-endian.
 *
 * <p>Thread: pure; any thread.
 */
public final class FrameEncoder {
    private FrameEncoder() {}

    /** The frame before byte stuffing, with its checksum. */
    public static byte[] raw(Frame frame) {
        byte[] raw = new byte[frame.rawLength()];
        byte[] payload = frame.payload();
        ByteBuffer buffer = ByteBuffer.wrap(raw).order(ByteOrder.LITTLE_ENDIAN);
        buffer.put((byte) (Frame.VERSION << 4 | frame.kind().code()));
        buffer.put((byte) frame.flags());
        buffer.putShort((short) frame.seq());
        buffer.putShort((short) frame.type());
        buffer.putShort((short) payload.length);
        buffer.put(payload);
        CRC32 crc = new CRC32();
        crc.update(raw, 0, raw.length - Frame.CRC_LENGTH);
        buffer.putInt((int) crc.getValue());
        return raw;
    }

    /** The frame as it goes on the wire, with its delimiter. */
    public static byte[] wire(Frame frame) {
        byte[] raw = raw(frame);
        byte[] encoded = new byte[Cobs.maxEncodedLength(raw.length) + 1];
        int length = Cobs.encode(raw, raw.length, encoded, 0);
        return Arrays.copyOf(encoded, length + 1);
    }
}
