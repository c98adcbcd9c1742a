package railproof.wire;

import java.util.Arrays;
import java.util.function.Consumer;
import java.util.zip.CRC32;

/**
 * Bytes to frames. Takes any input in any portions, never throws on it, and finds the next frame after any noise: a
 * zero byte ends whatever came before. Two delimiters in a row are nothing.
 *
 * <p>Thread: confined to one thread.
 */
public final class FrameDecoder {
    private static final FrameKind[] KINDS = FrameKind.values();

    private final byte[] held;
    private final byte[] raw;
    private final CRC32 crc = new CRC32();
    private int heldLength;
    private long overlongLength;

    /**
     * A decoder with nothing held.
     *
     * @param maxPayload longest payload taken, 0 to 65535 bytes; longer frames are noise
     */
    public FrameDecoder(int maxPayload) {
        if (maxPayload < 0 || maxPayload > 0xFFFF) {
            throw new IllegalArgumentException("max payload must be 0 to 65535 bytes, got " + maxPayload);
        }
        int maxRaw = Frame.HEADER_LENGTH + maxPayload + Frame.CRC_LENGTH;
        held = new byte[Cobs.maxEncodedLength(maxRaw)];
        raw = new byte[held.length];
    }

    /**
     * Takes bytes and gives out what they complete, in order.
     *
     * @param bytes input from {@code offset}, {@code length} bytes; not kept
     * @param sink takes each frame or noise
     */
    public void feed(byte[] bytes, int offset, int length, Consumer<? super Decoded> sink) {
        int end = offset + length;
        int start = offset;
        for (int i = offset; i < end; i++) {
            if (bytes[i] == 0) {
                endOfBlock(bytes, start, i - start, sink);
                start = i + 1;
            }
        }
        hold(bytes, start, end - start);
    }

    /** Forgets a frame that has come in part. */
    public void reset() {
        heldLength = 0;
        overlongLength = 0;
    }

    private void hold(byte[] bytes, int from, int length) {
        if (overlongLength > 0 || length > held.length - heldLength) {
            overlongLength += heldLength + (long) length;
            heldLength = 0;
            return;
        }
        System.arraycopy(bytes, from, held, heldLength, length);
        heldLength += length;
    }

    private void endOfBlock(byte[] bytes, int from, int length, Consumer<? super Decoded> sink) {
        boolean whole = heldLength == 0 && overlongLength == 0 && length <= held.length;
        if (!whole) {
            hold(bytes, from, length);
        }
        if (overlongLength > 0) {
            sink.accept(new Noise(Noise.Reason.OVERLONG, (int) Math.min(Integer.MAX_VALUE, overlongLength)));
        } else if (whole && length > 0) {
            sink.accept(decode(bytes, from, length));
        } else if (heldLength > 0) {
            sink.accept(decode(held, 0, heldLength));
        }
        reset();
    }

    private Decoded decode(byte[] encoded, int from, int encodedLength) {
        int length = Cobs.decode(encoded, from, encodedLength, raw);
        if (length < 0) {
            return new Noise(Noise.Reason.COBS, encodedLength);
        }
        int body = length - Frame.CRC_LENGTH;
        if (body < Frame.HEADER_LENGTH) {
            return new Noise(Noise.Reason.SHORT, encodedLength);
        }
        crc.reset();
        crc.update(raw, 0, body);
        long stored = u16(body) | (long) u16(body + 2) << 16;
        if (crc.getValue() != stored) {
            return new Noise(Noise.Reason.CRC, encodedLength);
        }
        if (u16(Frame.OFFSET_LENGTH) != body - Frame.HEADER_LENGTH) {
            return new Noise(Noise.Reason.LENGTH, encodedLength);
        }
        if ((raw[0] & 0xFF) >> 4 != Frame.VERSION) {
            return new Noise(Noise.Reason.VERSION, encodedLength);
        }
        int kind = raw[0] & 0x0F;
        if (kind < 1 || kind > KINDS.length) {
            return new Noise(Noise.Reason.KIND, encodedLength);
        }
        int flags = raw[Frame.OFFSET_FLAGS] & 0xFF;
        if ((flags & Frame.REJECT_IF_SET) != 0) {
            return new Noise(Noise.Reason.FLAGS, encodedLength);
        }
        byte[] payload = Arrays.copyOfRange(raw, Frame.OFFSET_PAYLOAD, body);
        return new Frame(KINDS[kind - 1], flags, u16(Frame.OFFSET_SEQ), u16(Frame.OFFSET_TYPE), payload);
    }

    private int u16(int at) {
        return (raw[at] & 0xFF) | ((raw[at + 1] & 0xFF) << 8);
    }
}
