package railproof.wire;

/**
 * Consistent Overhead Byte Stuffing: no zero byte inside, at most one byte more per 254. Source: S. Cheshire,
 * M. Baker, "Consistent Overhead Byte Stuffing", IEEE/ACM Transactions on Networking 7(2), 1999. The encoder emits the
 * trailing 0x01 after a final full block, as the paper's reference does; the decoder takes both forms.
 *
 * <p>Thread: pure; any thread.
 */
public final class Cobs {
    private static final int FULL_BLOCK = 0xFF;
    private static final int SHORT_COPY = 24;

    private Cobs() {}

    /** Longest encoding of {@code length} bytes, without delimiter. */
    public static int maxEncodedLength(int length) {
        return length + length / 254 + 1;
    }

    /**
     * Encodes.
     *
     * @param from input, read from index 0 to {@code length}
     * @param into output from {@code at}; room for {@link #maxEncodedLength} bytes
     * @return number of bytes written, without a delimiter
     */
    public static int encode(byte[] from, int length, byte[] into, int at) {
        int codeAt = at;
        int out = at + 1;
        int code = 1;
        for (int i = 0; i < length; i++) {
            byte b = from[i];
            if (b != 0) {
                into[out++] = b;
                code++;
            }
            if (b == 0 || code == FULL_BLOCK) {
                into[codeAt] = (byte) code;
                codeAt = out++;
                code = 1;
            }
        }
        into[codeAt] = (byte) code;
        return out - at;
    }

    /**
     * Decodes one encoded block (without delimiter).
     *
     * @param from input from {@code at}, {@code length} bytes
     * @param into output from index 0; room for {@code length} bytes
     * @return number of bytes decoded, or -1 if the input is no COBS encoding
     */
    public static int decode(byte[] from, int at, int length, byte[] into) {
        int end = at + length;
        int in = at;
        int out = 0;
        while (in < end) {
            int code = from[in++] & 0xFF;
            int run = code - 1;
            if (run < 0 || run > end - in) {
                return -1;
            }
            if (run <= SHORT_COPY) {
                for (int k = 0; k < run; k++) {
                    into[out + k] = from[in + k];
                }
            } else {
                System.arraycopy(from, in, into, out, run);
            }
            in += run;
            out += run;
            if (code != FULL_BLOCK && in < end) {
                into[out++] = 0;
            }
        }
        return length == 0 ? -1 : out;
    }
}
