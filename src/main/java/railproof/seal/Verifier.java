package railproof.seal;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import railproof.seal.Seal.Entry;
import railproof.seal.Seal.Link;
import railproof.seal.Verification.Finding;
import railproof.seal.Verification.State;

/**
 * Checks run folders against their seals. Changes nothing.
 *
 * <p>Thread: one per instance.
 */
public final class Verifier {
    private final Path folder;
    private final Set<String> knownKeys;
    private final List<Finding> findings = new ArrayList<>();
    private final List<String> notes = new ArrayList<>();

    private Verifier(Path folder, Set<String> knownKeys) {
        this.folder = folder;
        this.knownKeys = knownKeys;
    }

    /**
     * Checks a whole run.
     *
     * @param folder the run's folder
     * @param knownKeys public keys that are trusted, in hex
     * @throws IOException if the folder cannot be read
     */
    public static Verification run(Path folder, Set<String> knownKeys) throws IOException {
        return new Verifier(folder, knownKeys).check();
    }

    private Verification check() throws IOException {
        Map<String, Path> files = SealFiles.list(folder);
        SortedMap<Integer, Optional<SealText.Signed>> seals = SealChain.of(files);
        if (seals.isEmpty()) {
            return Verification.unsigned("there is no seal in " + folder);
        }
        List<Seal> good = goodSeals(seals);
        if (good.isEmpty()) {
            return result(Optional.empty());
        }
        Seal newest = good.get(good.size() - 1);
        compare(newest, files);
        for (int i = 0; i + 1 < good.size(); i++) {
            compareSeals(good.get(i), good.get(i + 1));
        }
        newest.before().ifPresent(this::checkBefore);
        return result(Optional.of(newest));
    }

    private List<Seal> goodSeals(SortedMap<Integer, Optional<SealText.Signed>> seals) {
        List<Seal> good = new ArrayList<>();
        for (int number = 1; number <= seals.lastKey(); number++) {
            String file = SealText.file(number);
            Optional<SealText.Signed> signed = seals.getOrDefault(number, Optional.empty());
            if (!seals.containsKey(number)) {
                findings.add(new Finding(file, "is missing"));
            } else if (signed.isEmpty()) {
                findings.add(new Finding(file, "was changed: it is no seal any more"));
            } else if (!signed.get().holds()) {
                findings.add(new Finding(file, "was changed: its signature does not fit"));
            } else if (signed.get().seal().number() != number) {
                findings.add(new Finding(
                        file, "is seal number " + signed.get().seal().number()));
            } else {
                good.add(signed.get().seal());
            }
        }
        return good;
    }

    private void compare(Seal seal, Map<String, Path> files) throws IOException {
        Set<String> seen = new HashSet<>();
        for (Entry entry : seal.entries()) {
            Path file = files.get(entry.name());
            Path staged = files.get(entry.name() + SealFiles.STAGED);
            seen.add(entry.name());
            if (same(entry, file)) {
                continue;
            }
            if (same(entry, staged)) {
                notes.add(entry.name() + " still has its passing name " + entry.name() + SealFiles.STAGED
                        + ": a write was cut off after it was sealed");
            } else {
                findings.add(new Finding(entry.name(), file == null ? "is missing" : "was changed"));
            }
        }
        for (String name : files.keySet()) {
            boolean own = name.equals(SealText.file(seal.number()));
            if (seen.contains(name) || own) {
                continue;
            }
            if (name.endsWith(SealFiles.STAGED)) {
                notes.add(name + " is left over from a write that was cut off; it counts for nothing");
            } else if (findings.stream().noneMatch(finding -> finding.file().equals(name))) {
                findings.add(new Finding(name, "was added after the seal"));
            }
        }
    }

    private static boolean same(Entry entry, @org.jspecify.annotations.Nullable Path file) throws IOException {
        if (file == null || !Files.isRegularFile(file, java.nio.file.LinkOption.NOFOLLOW_LINKS)) {
            return false;
        }
        return Files.size(file) == entry.bytes()
                && SealFiles.entry(entry.name(), file).equals(entry);
    }

    /** What was measured and judged stays as it was first sealed. */
    private void compareSeals(Seal earlier, Seal later) {
        String file = SealText.file(later.number());
        if (!earlier.runId().equals(later.runId()) || !earlier.unitSerial().equals(later.unitSerial())) {
            findings.add(new Finding(file, "is of another run: " + later.runId() + ", unit " + later.unitSerial()));
            return;
        }
        if (!earlier.recordDigest().equals(later.recordDigest())) {
            findings.add(new Finding(file, "seals another record than " + SealText.file(earlier.number())));
        }
        if (!earlier.before().equals(later.before())) {
            findings.add(new Finding(file, "names another run before it than " + SealText.file(earlier.number())));
        }
    }

    private void checkBefore(Link link) {
        Path data = folder.toAbsolutePath().getParent();
        Path file = data == null ? folder : data.resolve(link.runId()).resolve(link.file());
        if (data == null || !Files.isDirectory(data.resolve(link.runId()))) {
            notes.add("the unit's run before, " + link.runId() + ", is not here");
            return;
        }
        try {
            if (!SealFiles.sha256(Files.readAllBytes(file)).equals(link.sha256())) {
                findings.add(new Finding(
                        link.runId() + "/" + link.file(), "is another seal than the one this run was chained to"));
            }
        } catch (IOException e) {
            findings.add(new Finding(link.runId() + "/" + link.file(), "is missing; this run was chained to it"));
        }
    }

    private Verification result(Optional<Seal> seal) {
        if (!findings.isEmpty()) {
            return new Verification(State.CHANGED, findings, notes, seal);
        }
        boolean known = seal.map(s -> knownKeys.contains(s.publicKey())).orElse(false);
        return new Verification(known ? State.INTACT : State.UNKNOWN_KEY, findings, notes, seal);
    }

    /**
     * Checks one file against one seal.
     *
     * @param name what the file is called under the seal
     */
    public static Verification file(Path file, String name, Path sealFile, Set<String> knownKeys) throws IOException {
        Verifier verifier = new Verifier(sealFile.toAbsolutePath().resolveSibling(""), knownKeys);
        Optional<SealText.Signed> signed =
                SealText.read(Files.readAllBytes(sealFile)).filter(SealText.Signed::holds);
        String sealName = String.valueOf(sealFile.getFileName());
        if (signed.isEmpty()) {
            verifier.findings.add(new Finding(sealName, "is no seal, or was changed"));
            return verifier.result(Optional.empty());
        }
        Optional<Entry> entry = signed.get().seal().entry(name);
        if (entry.isEmpty()) {
            return Verification.unsigned(sealName + " says nothing of a file " + name);
        }
        if (!same(entry.get(), file)) {
            verifier.findings.add(new Finding(name, "was changed"));
        }
        return verifier.result(signed.map(SealText.Signed::seal));
    }
}
