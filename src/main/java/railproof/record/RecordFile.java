package railproof.record;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;

/**
 * An append-only file whose every acknowledged piece is on the medium, and which never keeps half of a piece that
 * failed. Thread: one.
 */
final class RecordFile implements AutoCloseable {
    private final Path file;
    private final Store.Appender appender;
    private long acknowledged;
    private boolean dirty;

    private RecordFile(Path file, Store.Appender appender) {
        this.file = file;
        this.appender = appender;
    }

    /** Makes the file, which must not exist, and puts its first piece on disk. */
    static RecordFile create(Store store, Path file, String firstPiece) throws RecordException {
        RecordFile created;
        try {
            created = new RecordFile(file, store.create(file, false));
        } catch (IOException e) {
            throw new RecordException("create the file", file, e);
        }
        if (!firstPiece.isEmpty()) {
            try {
                created.append(firstPiece);
            } catch (RecordException e) {
                created.letGo(e);
                throw e;
            }
        }
        return created;
    }

    /** Gives the file back to the system after a refusal, which is the one to be told. */
    private void letGo(RecordException refusal) {
        try {
            appender.close();
        } catch (IOException e) {
            refusal.addSuppressed(e);
        }
    }

    /** Goes on after the first {@code length} bytes of a file; what follows them is cut off. */
    static RecordFile reopen(Store store, Path file, long length) throws RecordException {
        try {
            RecordFile reopened = new RecordFile(file, store.reopen(file, length));
            reopened.acknowledged = length;
            return reopened;
        } catch (IOException e) {
            throw new RecordException("open the file again", file, e);
        }
    }

    /** Writes a whole file under a passing name, forces it, and gives it its name in one step. */
    static void writeWhole(Store store, Path file, byte[] content) throws RecordException {
        Path folder = file.toAbsolutePath().getParent();
        Path passing = file.resolveSibling(file.getFileName() + ".part");
        try {
            try (Store.Appender appender = store.create(passing, true)) {
                appender.write(content);
                appender.force();
            }
            store.replace(passing, file);
            if (folder != null) {
                store.syncFolder(folder);
            }
        } catch (IOException e) {
            throw new RecordException("write the file", file, e);
        }
    }

    /** Adds a piece; it is on the medium when this returns. */
    void append(String piece) throws RecordException {
        byte[] bytes = piece.getBytes(StandardCharsets.UTF_8);
        try {
            if (dirty) {
                appender.truncate(acknowledged);
            }
            dirty = true;
            appender.write(bytes);
            appender.force();
            dirty = false;
            acknowledged += bytes.length;
        } catch (IOException e) {
            throw new RecordException("append to the file", file, e);
        }
    }

    @Override
    public void close() throws RecordException {
        try {
            if (dirty) {
                appender.truncate(acknowledged);
                dirty = false;
            }
            appender.close();
        } catch (IOException e) {
            throw new RecordException("close the file", file, e);
        }
    }
}
