package railproof.record;

import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.CoderResult;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.util.List;
import railproof.base.BadFileException;
import railproof.base.Problem;

/** Bytes that must be UTF-8, to text. */
final class Utf8 {
    private Utf8() {}

    /**
     * The text.
     *
     * @param file how the problem names the file
     * @throws BadFileException at the line and column of the first byte that is not UTF-8
     */
    static String decode(String file, byte[] bytes) throws BadFileException {
        Result result = decodeUpTo(bytes);
        if (result.goodBytes() < bytes.length) {
            String before = result.text();
            int lineStart = before.lastIndexOf('\n') + 1;
            int line = 1 + (int) before.chars().filter(c -> c == '\n').count();
            throw new BadFileException(List.of(new Problem(
                    file,
                    line,
                    before.length() - lineStart + 1,
                    "",
                    String.format(
                            java.util.Locale.ROOT, "not valid UTF-8: byte 0x%02X", bytes[result.goodBytes()] & 0xFF))));
        }
        return result.text();
    }

    /**
     * As much as is valid.
     *
     * @param text the valid beginning
     * @param goodBytes its length in bytes
     */
    record Result(String text, int goodBytes) {}

    static Result decodeUpTo(byte[] bytes) {
        CharsetDecoder decoder = StandardCharsets.UTF_8
                .newDecoder()
                .onMalformedInput(CodingErrorAction.REPORT)
                .onUnmappableCharacter(CodingErrorAction.REPORT);
        ByteBuffer in = ByteBuffer.wrap(bytes);
        // UTF-8 never gives more characters than it has bytes
        CharBuffer out = CharBuffer.allocate(bytes.length);
        CoderResult end = decoder.decode(in, out, true);
        return new Result(out.flip().toString(), end.isError() ? in.position() : bytes.length);
    }

    /** Whether the bytes break off inside a character that could still have become valid. */
    static boolean endsInsideCharacter(byte[] bytes, int goodBytes) {
        int rest = bytes.length - goodBytes;
        if (rest < 1 || rest > 3) {
            return false;
        }
        int lead = bytes[goodBytes] & 0xFF;
        int needed = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : lead >= 0xC2 ? 2 : 1;
        if (rest >= needed) {
            return false;
        }
        for (int i = goodBytes + 1; i < bytes.length; i++) {
            if ((bytes[i] & 0xC0) != 0x80) {
                return false;
            }
        }
        return true;
    }
}
