package railproof.wire;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;

/**
 * Takes one reply byte by byte: a line of text ended by LF, CR or CR LF, or a definite-length block
 * ({@code #<n><n digits><data>}, IEEE 488.2, 8.7.9) in which LF is data. NUL and leading blanks are dropped. An
 * indefinite block ({@code #0}) needs the END message that a serial line does not have, and is refused.
 *
 * <p>Thread: confined.
 */
final class ScpiReplyDecoder {
    /** Longest text reply taken, bytes. */
    static final int MAX_TEXT = 4096;

    /** Longest block taken, bytes. */
    static final int MAX_BLOCK = 1 << 20;

    /** How far the reply has come. */
    enum State {
        /** Wants more bytes. */
        MORE,
        /** A line of text is complete. */
        TEXT,
        /** A block is complete. */
        BLOCK,
        /** Not a reply that can be used; see {@link #trouble()}. */
        BAD
    }

    private final ByteArrayOutputStream body = new ByteArrayOutputStream(64);
    private boolean inBlock;
    private int digitsLeft;
    private int bytesLeft = -1;
    private String trouble = "";

    /** Takes the next byte, 0 to 255. */
    State accept(int b) {
        if (inBlock) {
            return digitsLeft > 0 ? lengthDigit(b) : blockByte(b);
        }
        if (b == 0 || (body.size() == 0 && (b == ' ' || b == '\t' || b == '\r' || b == '\n'))) {
            return State.MORE;
        }
        if (b == '\n' || b == '\r') {
            return State.TEXT;
        }
        if ((b < ' ' && b != '\t') || b > '~') {
            return bad(String.format(java.util.Locale.ROOT, "byte 0x%02X is not text", b));
        }
        if (body.size() == 1 && body.toByteArray()[0] == '#' && b >= '0' && b <= '9') {
            return blockHeader(b - '0');
        }
        body.write(b);
        return body.size() > MAX_TEXT ? bad("longer than " + MAX_TEXT + " bytes without an end of line") : State.MORE;
    }

    private State blockHeader(int digits) {
        if (digits == 0) {
            return bad("indefinite-length block, which cannot end on a serial line");
        }
        inBlock = true;
        digitsLeft = digits;
        bytesLeft = 0;
        body.reset();
        return State.MORE;
    }

    private State lengthDigit(int b) {
        if (b < '0' || b > '9') {
            return bad("block length holds a byte that is no digit");
        }
        bytesLeft = bytesLeft * 10 + (b - '0');
        digitsLeft--;
        return bytesLeft > MAX_BLOCK ? bad("block longer than " + MAX_BLOCK + " bytes") : State.MORE;
    }

    private State blockByte(int b) {
        if (bytesLeft > 0) {
            body.write(b);
            bytesLeft--;
            return State.MORE;
        }
        if (b == '\n' || b == '\r') {
            return State.BLOCK;
        }
        return b == 0 || b == ' ' ? State.MORE : bad("bytes between the block's end and the end of the line");
    }

    /** The text so far, without trailing blanks. */
    String text() {
        return body.toString(StandardCharsets.US_ASCII).stripTrailing();
    }

    /** The block's data. */
    byte[] block() {
        return body.toByteArray();
    }

    /** What was wrong, or what has come so far. */
    String trouble() {
        if (!trouble.isEmpty()) {
            return trouble;
        }
        if (inBlock) {
            return "only a part of a block";
        }
        return body.size() == 0 ? "nothing" : "only \"" + text() + "\"";
    }

    private State bad(String what) {
        trouble = what;
        return State.BAD;
    }
}
