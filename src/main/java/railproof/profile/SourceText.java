package railproof.profile;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/**
 * The text of a file exactly as read, with its digest: kept in every run, so that it can be judged again as it was.
 *
 * @param name file name as the user gave it, or {@code built in: NAME}
 * @param text whole text
 * @param sha256 lower-case hex SHA-256 of the text's UTF-8 bytes
 */
public record SourceText(String name, String text, String sha256) {
    /** A text with its digest worked out. */
    public static SourceText of(String name, String text) {
        try {
            byte[] digest = MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
            return new SourceText(name, text, HexFormat.of().formatHex(digest));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-256", e);
        }
    }
}
