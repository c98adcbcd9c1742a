package railproof.record;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** SHA-256 as lower-case hex. */
final class Digests {
    private Digests() {}

    static String sha256(byte[] bytes) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-256", e);
        }
    }

    /** Whether the digest is the text's; an absent file has an empty text and may have an empty digest. */
    static boolean fits(String text, String sha256) {
        return sha256.equals(sha256(text.getBytes(StandardCharsets.UTF_8))) || (text.isEmpty() && sha256.isEmpty());
    }
}
