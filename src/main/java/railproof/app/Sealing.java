package railproof.app;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Arrays;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import railproof.base.BadFileException;
import railproof.base.SystemClock;
import railproof.profile.UnitPart;
import railproof.record.RecordException;
import railproof.record.Repairs;
import railproof.record.RunFolder;
import railproof.record.RunSummary;
import railproof.run.RunHeader;
import railproof.seal.KeyFolder;
import railproof.seal.Sealer;
import railproof.seal.Verification;
import railproof.seal.Verifier;

/** Where this bench keeps its keys, and sealing with them. Thread: any. */
public final class Sealing {
    /** Overrides where the keys are. */
    public static final String VARIABLE = "RAILPROOF_KEYS";

    private static final String PROPERTY = "railproof.keys";

    private Sealing() {}

    /** The keys' folder: the property {@code railproof.keys}, else the variable, else in the user's home. */
    public static KeyFolder keys() {
        String property = System.getProperty(PROPERTY, "");
        String variable = Optional.ofNullable(System.getenv(VARIABLE)).orElse("");
        String asked = property.isEmpty() ? variable : property;
        return new KeyFolder(
                asked.isEmpty() ? Path.of(System.getProperty("user.home", "."), ".railproof", "keys") : Path.of(asked));
    }

    /**
     * Seals a run at its end.
     *
     * @return what went wrong, in words: the record is whole without a seal, and a run must not be lost for it
     */
    static Optional<String> afterRun(Path folder, RunHeader header, Instant at) {
        try {
            new Sealer(keys()).seal(folder, header, at, Map.of());
            return Optional.empty();
        } catch (BadFileException | RecordException e) {
            return Optional.of("The run is not sealed: " + e.getMessage());
        }
    }

    /**
     * Keeps beside a run which part it turned out to be; later diagnoses of this type of supply learn from it.
     *
     * @throws BadFileException if the run was changed since it was sealed: then nothing is kept
     * @throws RecordException if the disk refuses
     */
    public static void keepRepair(Path folder, String profileId, UnitPart part)
            throws BadFileException, RecordException {
        keep(
                folder,
                Repairs.FILE,
                Repairs.text(profileId, part).getBytes(StandardCharsets.UTF_8),
                SystemClock.INSTANCE.wallTime());
    }

    /**
     * Keeps a file that was made later beside a run, under a seal if the run has one; replaces an earlier one of its
     * name.
     *
     * @param name its name, one of those that may be added to a sealed run
     * @throws BadFileException if the run was changed since it was sealed: then nothing is kept
     * @throws RecordException if the disk refuses
     */
    public static void keep(Path folder, String name, byte[] content, Instant at)
            throws BadFileException, RecordException {
        try {
            Path file = folder.resolve(name);
            if (Verifier.run(folder, Set.of()).state() == Verification.State.UNSIGNED) {
                RunFolder.writeBytes(folder, name, content);
            } else if (!Files.exists(file) || !Arrays.equals(content, Files.readAllBytes(file))) {
                RunHeader header = RunSummary.of(folder).header();
                new Sealer(keys()).seal(folder, header, at, Map.of(name, content));
            }
        } catch (RecordException e) {
            throw e;
        } catch (IOException e) {
            throw new RecordException("read the run", folder, e);
        }
    }
}
