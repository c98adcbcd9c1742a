package railproof.toml;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CoderResult;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import railproof.base.BadFileException;
import railproof.base.DiskWords;
import railproof.base.Problem;

/**
 * Reads a whole text file, refusing what cannot be one.
 *
 * <p>Thread: stateless; any thread.
 */
public final class TextFile {
    /** Largest file taken, bytes. */
    public static final int MAX_BYTES = 1 << 20;

    private TextFile() {}

    /**
     * The text of a file, exactly.
     *
     * @param file at most {@value #MAX_BYTES} bytes of UTF-8
     * @throws BadFileException if it is not there, not readable, too large or not UTF-8
     */
    public static String read(Path file) throws BadFileException {
        String name = file.toString();
        if (Files.isDirectory(file)) {
            throw bad(name, 0, 0, "this is a folder; a file is wanted");
        }
        if (!Files.exists(file)) {
            throw bad(name, 0, 0, "there is no such file");
        }
        try (InputStream in = Files.newInputStream(file)) {
            byte[] bytes = in.readNBytes(MAX_BYTES + 1);
            if (bytes.length > MAX_BYTES) {
                throw bad(name, 0, 0, "the file is larger than " + MAX_BYTES + " bytes, the most allowed");
            }
            return decode(name, bytes);
        } catch (IOException e) {
            throw bad(name, 0, 0, "cannot be read: " + Wording.message(DiskWords.of(e)));
        }
    }

    /**
     * The text of some bytes.
     *
     * @param name how the source is called in messages
     * @throws BadFileException at the first byte that is not UTF-8
     */
    public static String decode(String name, byte[] bytes) throws BadFileException {
        CharBuffer out = CharBuffer.allocate(bytes.length);
        ByteBuffer in = ByteBuffer.wrap(bytes);
        CoderResult result = StandardCharsets.UTF_8
                .newDecoder()
                .onMalformedInput(CodingErrorAction.REPORT)
                .onUnmappableCharacter(CodingErrorAction.REPORT)
                .decode(in, out, true);
        out.flip();
        if (result.isError()) {
            int line = 1 + (int) out.chars().filter(letter -> letter == '\n').count();
            int column = out.length() - out.toString().lastIndexOf('\n');
            int at = in.position();
            throw bad(
                    name,
                    line,
                    column,
                    String.format(java.util.Locale.ROOT, "the byte 0x%02X is not UTF-8 text", bytes[at] & 0xFF));
        }
        return out.toString();
    }

    private static BadFileException bad(String name, int line, int column, String message) {
        return new BadFileException(List.of(new Problem(name, line, column, "", message)));
    }
}
