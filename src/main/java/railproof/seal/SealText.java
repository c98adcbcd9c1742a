package railproof.seal;

import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import railproof.seal.Seal.Entry;
import railproof.seal.Seal.Link;

/**
 * A seal as text: one fact to a line, the signature over everything before it last. Only the exact text that printing
 * gives is taken for a seal, so that no byte of it can be another one.
 *
 * <p>Any tool can check it: each {@code file} line is a SHA-256, and the signature is plain Ed25519 over the bytes
 * before the line {@code signature}.
 */
final class SealText {
    private static final String TITLE = "railproof seal 1";
    private static final Pattern FILE = Pattern.compile("seal-([1-9][0-9]{0,5})\\.txt");
    private static final Pattern HASH = Pattern.compile("[0-9a-f]{64}");
    private static final String SIGNATURE = "signature ";
    private static final String NONE = "none";

    private SealText() {}

    /** A seal with its signature. */
    static final class Signed {
        private final Seal seal;
        private final byte[] signed;
        private final byte[] signature;

        /**
         * Takes ownership of both arrays.
         *
         * @param signed the bytes the signature covers
         */
        Signed(Seal seal, byte[] signed, byte[] signature) {
            this.seal = seal;
            this.signed = signed;
            this.signature = signature;
        }

        Seal seal() {
            return seal;
        }

        boolean holds() {
            return Ed25519.verified(seal.publicKey(), signed, signature);
        }
    }

    /** The seal's file name. */
    static String file(int number) {
        return String.format(Locale.ROOT, "seal-%d.txt", number);
    }

    /** The number of a seal by its file name. */
    static Optional<Integer> number(String file) {
        Matcher matcher = FILE.matcher(file);
        return matcher.matches() ? Optional.of(Integer.valueOf(matcher.group(1))) : Optional.empty();
    }

    /** What is signed. */
    static byte[] signed(Seal seal) {
        StringBuilder text = new StringBuilder(TITLE).append('\n');
        line(text, "number", String.valueOf(seal.number()));
        line(text, "run", escaped(seal.runId()));
        line(text, "unit", escaped(seal.unitSerial()));
        line(text, "sealed_at", seal.sealedAt().toString());
        line(
                text,
                "before",
                seal.before()
                        .map(link -> link.sha256() + " " + link.file() + " " + escaped(link.runId()))
                        .orElse(NONE));
        line(text, "record", seal.recordDigest());
        for (Entry entry : seal.entries()) {
            line(text, "file", entry.sha256() + " " + entry.bytes() + " " + escaped(entry.name()));
        }
        line(text, "key", "ed25519 " + seal.publicKey());
        return text.toString().getBytes(StandardCharsets.UTF_8);
    }

    /** The whole file. */
    static byte[] whole(byte[] signed, byte[] signature) {
        String last = SIGNATURE + HexFormat.of().formatHex(signature) + "\n";
        byte[] whole = Arrays.copyOf(signed, signed.length + last.length());
        System.arraycopy(last.getBytes(StandardCharsets.US_ASCII), 0, whole, signed.length, last.length());
        return whole;
    }

    /** Takes a file apart; empty if it is not exactly a seal. The signature is not yet checked. */
    static Optional<Signed> read(byte[] whole) {
        try {
            Iterator<String> lines = List.of(new String(whole, StandardCharsets.UTF_8).split("\n", -1))
                    .iterator();
            if (!lines.next().equals(TITLE)) {
                return Optional.empty();
            }
            int number = Integer.parseInt(after("number ", lines.next()));
            String run = plain(after("run ", lines.next()));
            String unit = plain(after("unit ", lines.next()));
            Instant sealedAt = Instant.parse(after("sealed_at ", lines.next()));
            Optional<Link> before = link(after("before ", lines.next()));
            String record = hash(after("record ", lines.next()));
            List<Entry> entries = new ArrayList<>();
            String line = lines.next();
            for (; line.startsWith("file "); line = lines.next()) {
                String[] parts = line.split(" ", 4);
                entries.add(new Entry(plain(parts[3]), Long.parseLong(parts[2]), hash(parts[1])));
            }
            Seal seal =
                    new Seal(number, run, unit, sealedAt, before, record, entries, hash(after("key ed25519 ", line)));
            byte[] signature = HexFormat.of().parseHex(after(SIGNATURE, lines.next()));
            byte[] signed = signed(seal);
            return Arrays.equals(whole, whole(signed, signature))
                    ? Optional.of(new Signed(seal, signed, signature))
                    : Optional.empty();
        } catch (IllegalArgumentException
                | DateTimeException
                | java.util.NoSuchElementException
                | ArrayIndexOutOfBoundsException e) {
            // any text may stand in such a file; what cannot be taken apart is no seal
            return Optional.empty();
        }
    }

    private static Optional<Link> link(String text) {
        if (text.equals(NONE)) {
            return Optional.empty();
        }
        String[] parts = text.split(" ", 3);
        return Optional.of(new Link(plain(parts[2]), parts[1], hash(parts[0])));
    }

    private static void line(StringBuilder text, String key, String value) {
        text.append(key).append(' ').append(value).append('\n');
    }

    private static String after(String key, String line) {
        if (!line.startsWith(key)) {
            throw new IllegalArgumentException("expected " + key + ", found " + line);
        }
        return line.substring(key.length());
    }

    private static String hash(String text) {
        if (!HASH.matcher(text).matches()) {
            throw new IllegalArgumentException("no digest: " + text);
        }
        return text;
    }

    /** Text on one line: whatever could end a line or hide in one is written as its code. */
    static String escaped(String text) {
        StringBuilder safe = new StringBuilder();
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            boolean odd = c == '\\'
                    || Character.isISOControl(c)
                    || Character.isSurrogate(c)
                    || c == '\u2028'
                    || c == '\u2029';
            safe.append(odd ? String.format(Locale.ROOT, "\\u%04x", (int) c) : String.valueOf(c));
        }
        return safe.toString();
    }

    private static String plain(String text) {
        StringBuilder plain = new StringBuilder();
        for (int i = 0; i < text.length(); i++) {
            if (text.startsWith("\\u", i)) {
                plain.append((char) Integer.parseInt(text.substring(i + 2, Math.min(i + 6, text.length())), 16));
                i += 5;
            } else {
                plain.append(text.charAt(i));
            }
        }
        return plain.toString();
    }
}
