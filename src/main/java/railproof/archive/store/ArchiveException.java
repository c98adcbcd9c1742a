package railproof.archive.store;

import java.io.IOException;

/** The archive cannot be reached, read or written. Its message holds no password. */
public final class ArchiveException extends IOException {
    /** Says what was attempted and why it failed. */
    public ArchiveException(String message) {
        super(message);
    }
}
