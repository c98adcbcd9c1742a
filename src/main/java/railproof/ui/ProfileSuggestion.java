package railproof.ui;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import railproof.base.BadFileException;
import railproof.record.RunFolder;
import railproof.record.RunIds;

/**
 * Which profile a serial number asks for: that of the unit's own last run, else of the last run of a unit whose serial
 * begins with the same letters. A suggestion; the operator has the last word.
 *
 * <p>Thread: immutable; reads the disk, so not on the window's thread.
 */
final class ProfileSuggestion {
    private final List<Path> newestFirst;

    /** Looks at a data directory; one that cannot be read suggests nothing. */
    ProfileSuggestion(Path dataDirectory) {
        newestFirst = new ArrayList<>();
        try {
            if (Files.isDirectory(dataDirectory)) {
                newestFirst.addAll(RunFolder.runs(dataDirectory));
                java.util.Collections.reverse(newestFirst);
            }
        } catch (IOException e) {
            // without the archive the operator chooses the profile
            newestFirst.clear();
        }
    }

    /**
     * The profile's id.
     *
     * @param serial as typed or scanned
     */
    Optional<String> of(String serial) {
        String own = "_" + RunIds.fileName(serial.strip().replace('_', '-')) + "_";
        String letters = serial.strip().replaceAll("[^A-Za-z].*", "");
        Optional<String> last = newest(folder -> folder.contains(own));
        return last.isPresent() || letters.isEmpty()
                ? last
                : newest(folder -> folder.matches("[^_]*_" + letters + "[^A-Za-z].*"));
    }

    private Optional<String> newest(Predicate<String> fits) {
        return newestFirst.stream()
                .filter(folder -> fits.test(String.valueOf(folder.getFileName())))
                .limit(5)
                .flatMap(folder -> profileOf(folder).stream())
                .findFirst();
    }

    private static Optional<String> profileOf(Path folder) {
        try {
            return Optional.of(
                    RunFolder.readVerdict(RunFolder.verdictFile(folder)).profileId());
        } catch (BadFileException e) {
            // a run without a verdict says nothing
            return Optional.empty();
        }
    }
}
