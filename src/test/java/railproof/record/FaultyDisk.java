package railproof.record;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.Path;
import java.util.Arrays;
import railproof.run.RunHeader;

/** A disk that goes wrong at its n-th operation, for campaigns. Never waits for the medium. */
public final class FaultyDisk implements Store {
    /** How it goes wrong. */
    public enum Kind {
        /** It never does. */
        SOUND,
        /** No room from then on; what was begun is cut short. */
        FULL,
        /** Nothing may be written from then on. */
        READ_ONLY,
        /** The medium breaks in the middle of one write, and works again afterwards. */
        MID_WRITE
    }

    private final Kind kind;
    private final int at;
    private int asked;

    /**
     * A disk.
     *
     * @param at the operation with which it begins, from 0 on
     */
    public FaultyDisk(Kind kind, int at) {
        this.kind = kind;
        this.at = at;
    }

    /** Opens a run folder on it. */
    public RunFolderWriter open(Path data, RunHeader header) throws RecordException {
        return RunFolderWriter.open(this, data, header);
    }

    /** How many operations were asked of it. */
    public int asked() {
        return asked;
    }

    private boolean wrong() {
        int n = asked++;
        return switch (kind) {
            case SOUND -> false;
            case FULL, READ_ONLY -> n >= at;
            case MID_WRITE -> n == at;
        };
    }

    private IOException trouble(Path file) {
        return switch (kind) {
            case READ_ONLY -> new AccessDeniedException(file.toString());
            case MID_WRITE -> new FileSystemException(file.toString(), null, "Input/output error");
            case SOUND, FULL -> new FileSystemException(file.toString(), null, "No space left on device");
        };
    }

    private void gate(Path file) throws IOException {
        if (wrong()) {
            throw trouble(file);
        }
    }

    @Override
    public void makeFolders(Path folder) throws IOException {
        gate(folder);
        DiskStore.INSTANCE.makeFolders(folder);
    }

    @Override
    public void makeNewFolder(Path folder) throws IOException {
        gate(folder);
        DiskStore.INSTANCE.makeNewFolder(folder);
    }

    @Override
    public Appender create(Path file, boolean overwrite) throws IOException {
        gate(file);
        return new FaultyAppender(file, DiskStore.INSTANCE.create(file, overwrite));
    }

    @Override
    public Appender reopen(Path file, long length) throws IOException {
        gate(file);
        return new FaultyAppender(file, DiskStore.INSTANCE.reopen(file, length));
    }

    @Override
    public void replace(Path from, Path to) throws IOException {
        gate(to);
        DiskStore.INSTANCE.replace(from, to);
    }

    @Override
    public void syncFolder(Path folder) throws IOException {
        gate(folder);
    }

    private final class FaultyAppender implements Appender {
        private final Path file;
        private final Appender disk;

        FaultyAppender(Path file, Appender disk) {
            this.file = file;
            this.disk = disk;
        }

        @Override
        public void write(byte[] bytes) throws IOException {
            if (wrong()) {
                disk.write(Arrays.copyOf(bytes, bytes.length / 2));
                throw trouble(file);
            }
            disk.write(bytes);
        }

        @Override
        public void force() throws IOException {
            gate(file);
        }

        @Override
        public void truncate(long length) throws IOException {
            disk.truncate(length); // cutting off needs no room
        }

        @Override
        public void close() throws IOException {
            disk.close();
        }
    }
}
