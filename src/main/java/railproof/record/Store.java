package railproof.record;

import java.io.Closeable;
import java.io.IOException;
import java.nio.file.Path;

/**
 * The few things a record asks of a disk. A seam, so that tests can stop the world between any two of them and between
 * any two bytes.
 */
interface Store {
    /** Makes a folder and the ones above it; fine if it is there. */
    void makeFolders(Path folder) throws IOException;

    /**
     * Makes a new folder.
     *
     * @throws java.nio.file.FileAlreadyExistsException if anything of that name is there
     */
    void makeNewFolder(Path folder) throws IOException;

    /** Makes a new file for appending; fails if one is there, unless {@code overwrite}. */
    Appender create(Path file, boolean overwrite) throws IOException;

    /** Opens a file that is there for appending after its first {@code length} bytes; what follows them is cut off. */
    Appender reopen(Path file, long length) throws IOException;

    /** Renames within one folder, replacing the target in one step. */
    void replace(Path from, Path to) throws IOException;

    /** Makes the names in a folder outlive a power cut, where the system can. */
    void syncFolder(Path folder) throws IOException;

    /** A file that only grows. */
    interface Appender extends Closeable {
        /** Adds all the bytes at the end. May have added some of them when it fails. */
        void write(byte[] bytes) throws IOException;

        /** Returns when everything written is on the medium. */
        void force() throws IOException;

        /** Cuts the file back to that many bytes. */
        void truncate(long length) throws IOException;
    }
}
