package railproof.record;

import java.io.IOException;
import java.nio.file.Path;
import railproof.base.DiskWords;

/** The record could not be written: disk full, no permission, medium gone. Names the file. */
public final class RecordException extends IOException {
    private final transient Path file;

    /**
     * Says which file and why.
     *
     * @param attempted what was attempted, e.g. {@code append a point}
     * @param file the file or folder concerned
     * @param cause what the operating system said
     */
    public RecordException(String attempted, Path file, IOException cause) {
        super("cannot " + attempted + ": " + file + ": " + DiskWords.of(cause), cause);
        this.file = file;
    }

    /** The file or folder concerned. */
    public Path file() {
        return file;
    }
}
