package railproof.record;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.Locale;

/** The real disk. */
final class DiskStore implements Store {
    static final DiskStore INSTANCE = new DiskStore();

    private static final boolean WINDOWS =
            System.getProperty("os.name", "").toLowerCase(Locale.ROOT).startsWith("windows");

    private DiskStore() {}

    @Override
    public void makeFolders(Path folder) throws IOException {
        Files.createDirectories(folder);
    }

    @Override
    public void makeNewFolder(Path folder) throws IOException {
        Files.createDirectory(folder);
    }

    @Override
    public Appender create(Path file, boolean overwrite) throws IOException {
        if (overwrite) {
            // not opened and cut: a link somebody put here would lead the pen out of the folder
            Files.deleteIfExists(file);
        }
        return new ChannelAppender(FileChannel.open(file, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE));
    }

    @Override
    public Appender reopen(Path file, long length) throws IOException {
        FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE, LinkOption.NOFOLLOW_LINKS);
        try {
            channel.truncate(length);
            channel.position(length);
        } catch (IOException e) {
            channel.close();
            throw e;
        }
        return new ChannelAppender(channel);
    }

    @Override
    public void replace(Path from, Path to) throws IOException {
        try {
            Files.move(from, to, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
        } catch (AtomicMoveNotSupportedException e) {
            throw new IOException("this file system cannot replace a file in one step: " + to, e);
        }
    }

    @Override
    public void syncFolder(Path folder) throws IOException {
        // Windows neither needs this nor lets a folder be opened
        if (!WINDOWS) {
            try (FileChannel channel = FileChannel.open(folder, StandardOpenOption.READ)) {
                channel.force(true);
            }
        }
    }

    private record ChannelAppender(FileChannel channel) implements Appender {
        @Override
        public void write(byte[] bytes) throws IOException {
            ByteBuffer buffer = ByteBuffer.wrap(bytes);
            while (buffer.hasRemaining()) {
                channel.write(buffer);
            }
        }

        @Override
        public void force() throws IOException {
            channel.force(false);
        }

        @Override
        public void truncate(long length) throws IOException {
            channel.truncate(length);
        }

        @Override
        public void close() throws IOException {
            channel.close();
        }
    }
}
