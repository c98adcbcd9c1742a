package railproof.wire;

import java.util.Arrays;
import java.util.HexFormat;
import java.util.Locale;

/**
 * One frame of the board's link layer. All integers little-endian:
 *
 * <pre>
 *   0        1       2       4       6        8            8+n
 *  +--------+-------+-------+-------+--------+------------+--------+
 *  |ver_kind| flags |  seq  | type  | length | payload[n] | crc32  |
 *  +--------+-------+-------+-------+--------+------------+--------+
 * </pre>
 *
 * <p>On the wire: COBS of the above, then one 0x00. See firmware-protocol/PROTOCOL.md.
 *
 * <p>Thread: immutable; the payload array is handed over, not copied, and must not be changed.
 */
public final class Frame implements Decoded {
    /** Link layer version, high nibble of the first byte. */
    public static final int VERSION = 1;
    /** Bytes before the payload. */
    public static final int HEADER_LENGTH = 8;
    /** Bytes after the payload. */
    public static final int CRC_LENGTH = 4;
    /** Flag: this request was sent before with the same seq. */
    public static final int RETRY = 0x01;
    /** Flag: more frames of the same answer follow. */
    public static final int MORE = 0x02;
    /** Flag, device only: a fault is latched. */
    public static final int FAULT_LATCHED = 0x04;
    /** Flag, device only: load-enable and all relays are off by read-back. */
    public static final int OUTPUTS_SAFE = 0x08;
    /** Flags a receiver must not ignore. */
    public static final int REJECT_IF_SET = 0x30;

    static final int OFFSET_FLAGS = 1;
    static final int OFFSET_SEQ = 2;
    static final int OFFSET_TYPE = 4;
    static final int OFFSET_LENGTH = 6;
    static final int OFFSET_PAYLOAD = HEADER_LENGTH;

    private final FrameKind kind;
    private final int flags;
    private final int seq;
    private final int type;
    private final byte[] payload;

    /**
     * A frame.
     *
     * @param flags one byte
     * @param seq sequence number, 0 to 65535
     * @param type message id, 0 to 65535
     * @param payload at most 65535 bytes; ownership passes
     */
    public Frame(FrameKind kind, int flags, int seq, int type, byte[] payload) {
        requireRange("flags", flags, 0xFF);
        requireRange("seq", seq, 0xFFFF);
        requireRange("type", type, 0xFFFF);
        requireRange("payload length", payload.length, 0xFFFF);
        this.kind = kind;
        this.flags = flags;
        this.seq = seq;
        this.type = type;
        this.payload = payload;
    }

    private static void requireRange(String field, int value, int max) {
        if (value < 0 || value > max) {
            throw new IllegalArgumentException(field + " must be 0 to " + max + ", got " + value);
        }
    }

    /** What it is. */
    public FrameKind kind() {
        return kind;
    }

    /** Flag bits. */
    public int flags() {
        return flags;
    }

    /** Whether a flag is set. */
    public boolean has(int flag) {
        return (flags & flag) != 0;
    }

    /** Sequence number. */
    public int seq() {
        return seq;
    }

    /** Message id. */
    public int type() {
        return type;
    }

    /** The payload itself, not a copy. */
    public byte[] payload() {
        return payload;
    }

    /** Length before encoding, with header and checksum. */
    int rawLength() {
        return HEADER_LENGTH + payload.length + CRC_LENGTH;
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof Frame f
                && f.kind == kind
                && f.flags == flags
                && f.seq == seq
                && f.type == type
                && Arrays.equals(f.payload, payload);
    }

    @Override
    public int hashCode() {
        return 31 * (31 * type + seq) + Arrays.hashCode(payload);
    }

    @Override
    public String toString() {
        return String.format(
                Locale.ROOT,
                "%s type=%04x seq=%d flags=%02x payload=%s",
                kind,
                type,
                seq,
                flags,
                HexFormat.of().formatHex(payload));
    }
}
