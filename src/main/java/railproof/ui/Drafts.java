package railproof.ui;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Optional;
import railproof.record.RecordException;
import railproof.record.RunFolder;
import railproof.record.RunIds;

/**
 * Texts that were typed and are not in their files yet. Each is kept in the data directory from the moment the typing
 * rests, so that neither a mistake in the file, nor a closed window, nor a power cut costs a line of it.
 *
 * <p>Thread: any; every write is one step on the disk.
 */
final class Drafts {
    private static final String FOLDER = "drafts";

    private final Path folder;

    Drafts(Path dataDirectory) {
        folder = dataDirectory.resolve(FOLDER);
    }

    /** Where the draft of a file is kept. */
    Path of(Path file) {
        String place = file.toAbsolutePath().normalize().toString();
        // two files of one name in different folders have drafts of their own
        return folder.resolve(
                Integer.toHexString(place.hashCode()) + "-" + RunIds.fileName(String.valueOf(file.getFileName())));
    }

    /** The draft of a file, if there is one. */
    Optional<String> read(Path file) throws IOException {
        try {
            return Optional.of(Files.readString(of(file), StandardCharsets.UTF_8));
        } catch (NoSuchFileException e) {
            return Optional.empty();
        }
    }

    /**
     * Keeps a draft.
     *
     * @throws RecordException if the disk refuses
     */
    void keep(Path file, String text) throws RecordException {
        try {
            Files.createDirectories(folder);
        } catch (IOException e) {
            throw new RecordException("make the folder of drafts", folder, e);
        }
        RunFolder.writeFile(of(file), text);
    }

    /** The text is in its file now. */
    void forget(Path file) throws IOException {
        Files.deleteIfExists(of(file));
    }
}
