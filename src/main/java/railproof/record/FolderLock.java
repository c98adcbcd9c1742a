package railproof.record;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Optional;

/**
 * Keeps a run folder for one writer: a locked file in it. The system lets go of the lock when the process dies, however
 * it dies, so a folder whose writer was killed is free at once.
 *
 * <p>Thread: one at a time.
 */
public final class FolderLock implements AutoCloseable {
    static final String FILE = "in-use.lock";

    private final Path file;
    private final FileChannel channel;

    private FolderLock(Path file, FileChannel channel) {
        this.file = file;
        this.channel = channel;
    }

    /**
     * Takes the folder.
     *
     * @return empty if another writer has it, in this process or another
     * @throws RecordException if the disk refuses
     */
    public static Optional<FolderLock> take(Path folder) throws RecordException {
        Path file = folder.resolve(FILE);
        try {
            FileChannel channel = FileChannel.open(
                    file, StandardOpenOption.CREATE, StandardOpenOption.WRITE, LinkOption.NOFOLLOW_LINKS);
            if (locked(channel)) {
                return Optional.of(new FolderLock(file, channel));
            }
            channel.close();
            return Optional.empty();
        } catch (IOException e) {
            throw new RecordException("lock the file", file, e);
        }
    }

    private static boolean locked(FileChannel channel) throws IOException {
        try {
            FileLock lock = channel.tryLock();
            return lock != null;
        } catch (OverlappingFileLockException e) {
            return false;
        }
    }

    /** Lets go; the file stays. */
    @Override
    public void close() throws RecordException {
        try {
            channel.close();
        } catch (IOException e) {
            throw new RecordException("unlock the file", file, e);
        }
    }

    /**
     * Lets go of a folder that nobody will write to any more.
     *
     * @throws RecordException if the disk refuses
     */
    public void closeForGood() throws RecordException {
        close();
        try {
            Files.deleteIfExists(file);
        } catch (IOException e) {
            throw new RecordException("remove the file", file, e);
        }
    }
}
