package railproof.seal;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Stream;
import railproof.record.Repairs;
import railproof.record.RunFolder;
import railproof.seal.Seal.Entry;

/** The files of a run folder, and what they are to a seal. */
final class SealFiles {
    /** Ends the name of a file that is staged for the next seal. */
    static final String STAGED = ".new";

    private static final Set<String> DERIVED =
            Set.of("certificate.html", "certificate.pdf", "certificate.csv", RunFolder.SIGN_OFF_FILE, Repairs.FILE);
    private static final int BUFFER = 1 << 16;

    private SealFiles() {}

    /** The digest, lower-case hex. */
    static String sha256(byte[] bytes) {
        return HexFormat.of().formatHex(digest().digest(bytes));
    }

    private static MessageDigest digest() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-256", e);
        }
    }

    /** Name, length and digest of a file. */
    static Entry entry(String name, Path file) throws IOException {
        MessageDigest digest = digest();
        byte[] buffer = new byte[BUFFER];
        long length = 0;
        try (InputStream in = Files.newInputStream(file, LinkOption.NOFOLLOW_LINKS)) {
            for (int read = in.read(buffer); read >= 0; read = in.read(buffer)) {
                digest.update(buffer, 0, read);
                length += read;
            }
        }
        return new Entry(name, length, HexFormat.of().formatHex(digest.digest()));
    }

    static Entry entry(String name, byte[] content) {
        return new Entry(name, content.length, sha256(content));
    }

    /**
     * Everything in the folder that is not a folder, by its path with slashes; links are not followed. Left out is what
     * a kill leaves behind: the empty lock, and files that never got their name.
     */
    static Map<String, Path> list(Path folder) throws IOException {
        Map<String, Path> files = new TreeMap<>();
        try (Stream<Path> all = Files.walk(folder)) {
            for (Path file : (Iterable<Path>) all::iterator) {
                String name = folder.relativize(file)
                        .toString()
                        .replace(file.getFileSystem().getSeparator(), "/");
                if (!Files.isDirectory(file, LinkOption.NOFOLLOW_LINKS) && !passing(name, file)) {
                    files.put(name, file);
                }
            }
        } catch (java.io.UncheckedIOException e) {
            throw e.getCause();
        }
        return files;
    }

    private static boolean passing(String name, Path file) throws IOException {
        return name.endsWith(".part") || (name.equals(RunFolder.LOCK_FILE) && Files.size(file) == 0);
    }

    /** Whether the file can be made again from the rest: it may be another one under a later seal. */
    static boolean derived(String name) {
        return DERIVED.contains(name)
                || (name.startsWith("verdict-") && name.endsWith(".json"))
                || SealText.number(name).isPresent();
    }

    /** One digest for what was measured and judged: SHA-256 over a line {@code DIGEST NAME} for each file. */
    static String recordDigest(List<Entry> entries) {
        StringBuilder lines = new StringBuilder();
        for (Entry entry : entries) {
            if (!derived(entry.name())) {
                lines.append(entry.sha256())
                        .append(' ')
                        .append(SealText.escaped(entry.name()))
                        .append('\n');
            }
        }
        return sha256(lines.toString().getBytes(StandardCharsets.UTF_8));
    }
}
