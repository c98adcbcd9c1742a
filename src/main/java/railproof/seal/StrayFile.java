package railproof.seal;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import railproof.record.RunFolder;
import railproof.record.RunIds;
import railproof.seal.Seal.Entry;
import railproof.seal.Verification.Finding;
import railproof.seal.Verification.State;

/** Checks a file that is not in its run folder: a certificate that was sent, or handed in. Changes nothing. */
public final class StrayFile {
    /** Every certificate carries this, followed by the run's id, readable without taking the file apart. */
    public static final String MARK = "railproof-run: ";

    private static final Pattern MARKED = Pattern.compile(Pattern.quote(MARK) + "([A-Za-z0-9._-]{1,200})");

    private StrayFile() {}

    /**
     * Checks a file against a seal that lies beside it or, if none does, against the sealed runs of a data directory.
     *
     * @param seal the seal to check against, if the user names one
     * @throws IOException if a file cannot be read
     */
    public static Verification check(Path file, Optional<Path> seal, Path dataDirectory, Set<String> knownKeys)
            throws IOException {
        Optional<Path> against = seal.isPresent() ? seal : beside(file);
        if (against.isPresent()) {
            return Verifier.file(file, String.valueOf(file.getFileName()), against.get(), knownKeys);
        }
        byte[] content = Files.readAllBytes(file);
        Matcher mark = MARKED.matcher(new String(content, StandardCharsets.ISO_8859_1));
        if (!mark.find()) {
            return Verification.unsigned("no seal lies beside it, and it does not say which run it belongs to");
        }
        String runId = mark.group(1);
        Path run = dataDirectory.resolve(RunIds.fileName(runId));
        if (!RunFolder.isRun(run)) {
            return Verification.unsigned(
                    "no seal lies beside it, and its run " + runId + " is not in " + dataDirectory);
        }
        Verification whole = Verifier.run(run, knownKeys);
        if (whole.seal().isEmpty()) {
            return whole;
        }
        return ofRun(content, runId, whole);
    }

    private static Verification ofRun(byte[] content, String runId, Verification whole) {
        Seal seal = whole.seal().orElseThrow();
        String sha256 = SealFiles.sha256(content);
        Optional<Entry> same = seal.entries().stream()
                .filter(entry -> entry.sha256().equals(sha256))
                .findFirst();
        String where = "checked against " + SealText.file(seal.number()) + " of run " + runId;
        if (same.isEmpty()) {
            return new Verification(
                    State.CHANGED,
                    List.of(new Finding("the file", "was changed, or is not the one sealed last")),
                    List.of(where),
                    whole.seal());
        }
        return new Verification(
                whole.state(),
                whole.findings(),
                List.of(where + ", there " + same.get().name()),
                whole.seal());
    }

    private static Optional<Path> beside(Path file) throws IOException {
        TreeMap<Integer, Path> seals = new TreeMap<>();
        Path folder = file.toAbsolutePath().getParent();
        if (folder == null) {
            return Optional.empty();
        }
        try (Stream<Path> files = Files.list(folder)) {
            for (Path other : (Iterable<Path>) files::iterator) {
                SealText.number(String.valueOf(other.getFileName())).ifPresent(number -> seals.put(number, other));
            }
        }
        return Optional.ofNullable(seals.lastEntry()).map(Map.Entry::getValue);
    }
}
