package railproof.seal;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.record.FolderLock;
import railproof.record.RecordException;
import railproof.record.RunFolder;
import railproof.run.RunHeader;
import railproof.seal.Seal.Entry;
import railproof.seal.Verification.State;

/**
 * Seals run folders.
 *
 * <p>What is added under a later seal gets its passing name {@code NAME.new} first; the new seal itself, put in place
 * in one step, is what makes it count; then it gets its name. Killed at any instant the folder reads as before or as
 * after, and the next seal clears up.
 *
 * <p>Thread: any; a folder is held while it is sealed.
 */
public final class Sealer {
    private final KeyFolder keys;

    /** A sealer with these keys. */
    public Sealer(KeyFolder keys) {
        this.keys = keys;
    }

    /**
     * Seals a run that has ended, for the first time or again.
     *
     * @param header the run's header
     * @param at wall time
     * @param additions files to add or to replace, by name; nothing that was measured or judged can be replaced
     * @throws BadFileException if the run has no end, was changed since it was sealed, or the key cannot be used
     * @throws RecordException if the disk refuses
     */
    public Seal seal(Path folder, RunHeader header, Instant at, Map<String, byte[]> additions)
            throws BadFileException, RecordException {
        if (!Files.exists(folder.resolve(RunFolder.END_FILE))) {
            throw refusal(folder, "a run without an end cannot be sealed");
        }
        FolderLock lock = FolderLock.take(folder)
                .orElseThrow(() -> refusal(folder, "this run is being written at this moment by another process"));
        try {
            return sealed(folder, header, at, additions);
        } catch (NoSuchFileException e) {
            throw refusal(folder, "a file vanished while the run was sealed: " + e.getMessage());
        } catch (RecordException e) {
            throw e;
        } catch (IOException e) {
            throw new RecordException("seal the run", folder, e);
        } finally {
            lock.closeForGood();
        }
    }

    private Seal sealed(Path folder, RunHeader header, Instant at, Map<String, byte[]> additions)
            throws BadFileException, IOException {
        KeyFolder.Pair pair = keys.own();
        Optional<Seal> last = newest(folder);
        if (last.isPresent()) {
            clearUp(folder, last.get());
        }
        Map<String, Entry> entries = new TreeMap<>();
        for (Map.Entry<String, Path> file : SealFiles.list(folder).entrySet()) {
            if (!file.getKey().endsWith(SealFiles.STAGED)) {
                entries.put(file.getKey(), SealFiles.entry(file.getKey(), file.getValue()));
            }
        }
        for (Map.Entry<String, byte[]> addition : additions.entrySet()) {
            if (!SealFiles.derived(addition.getKey())) {
                throw new IllegalArgumentException(addition.getKey() + " is part of what was measured");
            }
            RunFolder.writeBytes(folder, addition.getKey() + SealFiles.STAGED, addition.getValue());
            entries.put(addition.getKey(), SealFiles.entry(addition.getKey(), addition.getValue()));
        }
        List<Entry> all = new ArrayList<>(entries.values());
        Seal seal = new Seal(
                last.map(before -> before.number() + 1).orElse(1),
                String.valueOf(folder.getFileName()),
                header.unitSerial(),
                at,
                last.isPresent() ? last.get().before() : SealChain.before(folder, header.unitSerial()),
                SealFiles.recordDigest(all),
                all,
                pair.publicHex());
        byte[] signed = SealText.signed(seal);
        byte[] whole = SealText.whole(signed, Ed25519.sign(pair.secret(), signed));
        RunFolder.writeBytes(folder, SealText.file(seal.number()), whole);
        clearUp(folder, seal);
        return seal;
    }

    /** The newest seal of a folder nobody changed; empty if it has none yet. */
    private Optional<Seal> newest(Path folder) throws BadFileException, IOException {
        // whose key it was is for the reader of a seal to judge
        Verification found = Verifier.run(folder, java.util.Set.of());
        if (found.state() == State.CHANGED) {
            throw new BadFileException(found.findings().stream()
                    .map(finding -> new Problem(
                            folder.resolve(finding.file()).toString(),
                            0,
                            0,
                            "",
                            finding.words() + "; a run that was changed is not sealed again"))
                    .toList());
        }
        return found.seal();
    }

    /** Gives names to what is sealed and waits for them, and removes what no seal took up. */
    private static void clearUp(Path folder, Seal seal) throws IOException {
        for (Map.Entry<String, Path> file : SealFiles.list(folder).entrySet()) {
            if (!file.getKey().endsWith(SealFiles.STAGED)) {
                continue;
            }
            String name = file.getKey().substring(0, file.getKey().length() - SealFiles.STAGED.length());
            Optional<Entry> entry = seal.entry(name);
            if (entry.isPresent() && entry.get().equals(SealFiles.entry(name, file.getValue()))) {
                Files.move(
                        file.getValue(),
                        folder.resolve(name),
                        StandardCopyOption.ATOMIC_MOVE,
                        StandardCopyOption.REPLACE_EXISTING);
            } else {
                Files.delete(file.getValue());
            }
        }
    }

    /** The digest a certificate prints: of all that was measured and judged, as a seal of this folder would say it. */
    public static String recordDigest(Path folder) throws RecordException {
        try {
            List<Entry> entries = new ArrayList<>();
            for (Map.Entry<String, Path> file : SealFiles.list(folder).entrySet()) {
                if (!file.getKey().endsWith(SealFiles.STAGED)) {
                    entries.add(SealFiles.entry(file.getKey(), file.getValue()));
                }
            }
            return SealFiles.recordDigest(entries);
        } catch (IOException e) {
            throw new RecordException("read the files", folder, e);
        }
    }

    private static BadFileException refusal(Path folder, String message) {
        return new BadFileException(List.of(new Problem(folder.toString(), 0, 0, "", message)));
    }
}
