package railproof.record;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/**
 * A store that passes everything on to the disk and remembers the sequence, so that a test can play any beginning of
 * it, to the byte. Can be told to refuse one operation.
 */
final class RecordingStore implements Store {
    /** One thing asked of the disk. */
    sealed interface Step permits Folder, Create, Write, Force, Truncate, Rename, Sync {}

    record Folder(Path folder) implements Step {}

    record Create(Path file) implements Step {}

    static final class Write implements Step {
        private final Path file;
        private final byte[] bytes;

        Write(Path file, byte[] bytes) {
            this.file = file;
            this.bytes = bytes;
        }

        Path file() {
            return file;
        }

        byte[] bytes() {
            return bytes;
        }
    }

    record Force(Path file) implements Step {}

    record Truncate(Path file, long length) implements Step {}

    record Rename(Path from, Path to) implements Step {}

    record Sync(Path folder) implements Step {}

    final List<Step> steps = new ArrayList<>();
    private boolean forcing = true;
    private int refuseAt = Integer.MAX_VALUE;
    private int asked;

    /** Leaves out waiting for the medium, which tests of contents need not. */
    RecordingStore withoutForcing() {
        forcing = false;
        return this;
    }

    /** The n-th operation from 0 on fails; a write leaves half its bytes. */
    void refuse(int n) {
        refuseAt = n;
    }

    int asked() {
        return asked;
    }

    @Override
    public void makeFolders(Path folder) throws IOException {
        gate();
        DiskStore.INSTANCE.makeFolders(folder);
    }

    @Override
    public void makeNewFolder(Path folder) throws IOException {
        gate();
        DiskStore.INSTANCE.makeNewFolder(folder);
        steps.add(new Folder(folder));
    }

    @Override
    public Appender create(Path file, boolean overwrite) throws IOException {
        gate();
        Appender disk = DiskStore.INSTANCE.create(file, overwrite);
        steps.add(new Create(file));
        return new RecordingAppender(file, disk);
    }

    @Override
    public Appender reopen(Path file, long length) throws IOException {
        gate();
        Appender disk = DiskStore.INSTANCE.reopen(file, length);
        steps.add(new Truncate(file, length));
        return new RecordingAppender(file, disk);
    }

    @Override
    public void replace(Path from, Path to) throws IOException {
        gate();
        DiskStore.INSTANCE.replace(from, to);
        steps.add(new Rename(from, to));
    }

    @Override
    public void syncFolder(Path folder) throws IOException {
        gate();
        if (forcing) {
            DiskStore.INSTANCE.syncFolder(folder);
        }
        steps.add(new Sync(folder));
    }

    private boolean refused() {
        return asked++ == refuseAt;
    }

    private void gate() throws IOException {
        if (refused()) {
            throw new IOException("No space left on device");
        }
    }

    private final class RecordingAppender implements Appender {
        private final Path file;
        private final Appender disk;

        RecordingAppender(Path file, Appender disk) {
            this.file = file;
            this.disk = disk;
        }

        @Override
        public void write(byte[] bytes) throws IOException {
            if (refused()) {
                disk.write(java.util.Arrays.copyOf(bytes, bytes.length / 2));
                throw new IOException("No space left on device");
            }
            disk.write(bytes);
            steps.add(new Write(file, bytes.clone()));
        }

        @Override
        public void force() throws IOException {
            gate();
            if (forcing) {
                disk.force();
            }
            steps.add(new Force(file));
        }

        @Override
        public void truncate(long length) throws IOException {
            gate();
            disk.truncate(length);
            steps.add(new Truncate(file, length));
        }

        @Override
        public void close() throws IOException {
            disk.close();
        }
    }
}
