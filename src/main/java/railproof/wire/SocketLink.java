package railproof.wire;

import java.io.Closeable;
import java.io.IOException;
import java.net.InetSocketAddress;
import java.net.SocketAddress;
import java.net.StandardProtocolFamily;
import java.net.StandardSocketOptions;
import java.net.UnixDomainSocketAddress;
import java.nio.ByteBuffer;
import java.nio.channels.ClosedChannelException;
import java.nio.channels.ClosedSelectorException;
import java.nio.channels.SelectionKey;
import java.nio.channels.Selector;
import java.nio.channels.SocketChannel;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.ReentrantLock;
import railproof.base.Clock;

/**
 * A link over TCP or over a unix-domain socket: for instruments with a network port, and for emulated boards.
 *
 * <p>The channel never blocks; waiting is done in a selector. That matters for an interrupt: it would close a blocking
 * channel, and the OFF that has to follow an interrupt could not be sent any more.
 *
 * <p>Thread: as {@link Link}. The clock must be one of real time.
 */
public final class SocketLink implements Link {
    private static final ExitActions EXIT = ExitActions.ofRuntime();
    private static final long CONNECT_NS = TimeUnit.SECONDS.toNanos(3);
    private static final long WRITE_NS = TimeUnit.SECONDS.toNanos(1);

    private final String name;
    private final Clock clock;
    private final SocketChannel channel;
    private final Selector readable;
    private final Selector writable;
    private final ReentrantLock writing = new ReentrantLock();

    private SocketLink(String name, Clock clock, SocketChannel channel) throws IOException {
        this.name = name;
        this.clock = clock;
        this.channel = channel;
        channel.configureBlocking(false);
        readable = Selector.open();
        writable = Selector.open();
    }

    /**
     * Connects over TCP, waiting at most 3 s.
     *
     * @throws LinkDownException if nobody answers there
     */
    public static SocketLink tcp(String name, Clock clock, String host, int port) throws LinkException {
        InetSocketAddress address = new InetSocketAddress(host, port);
        if (address.isUnresolved()) {
            throw new LinkDownException(name, "no such host: " + host);
        }
        try {
            SocketChannel channel = SocketChannel.open();
            channel.setOption(StandardSocketOptions.TCP_NODELAY, true);
            return connected(new SocketLink(name, clock, channel), address);
        } catch (IOException e) {
            throw new LinkDownException(name, "cannot connect to " + host + ":" + port + ": " + e.getMessage(), e);
        }
    }

    /**
     * Connects to a unix-domain socket.
     *
     * @throws LinkDownException if nobody listens there
     */
    public static SocketLink unix(String name, Clock clock, Path path) throws LinkException {
        try {
            SocketChannel channel = SocketChannel.open(StandardProtocolFamily.UNIX);
            return connected(new SocketLink(name, clock, channel), UnixDomainSocketAddress.of(path));
        } catch (IOException e) {
            throw new LinkDownException(name, "cannot connect to " + path + ": " + e.getMessage(), e);
        }
    }

    private static SocketLink connected(SocketLink link, SocketAddress address) throws IOException {
        try {
            link.connect(address);
            return link;
        } catch (IOException e) {
            link.close();
            throw e;
        }
    }

    private void connect(SocketAddress address) throws IOException {
        if (!channel.connect(address)) {
            SelectionKey key = channel.register(writable, SelectionKey.OP_CONNECT);
            if (writable.select(TimeUnit.NANOSECONDS.toMillis(CONNECT_NS)) == 0) {
                throw new IOException("no answer within 3 s");
            }
            channel.finishConnect();
            key.interestOps(SelectionKey.OP_WRITE);
        } else {
            channel.register(writable, SelectionKey.OP_WRITE);
        }
        channel.register(readable, SelectionKey.OP_READ);
    }

    @Override
    public String name() {
        return name;
    }

    @Override
    public Clock clock() {
        return clock;
    }

    @Override
    public void write(byte[] bytes) throws LinkException {
        writing.lock();
        try {
            writeWithin(bytes, WRITE_NS);
        } catch (IOException e) {
            close();
            throw new LinkDownException(name, "write failed: " + describe(e), e);
        } finally {
            writing.unlock();
        }
    }

    private void writeWithin(byte[] bytes, long limitNs) throws IOException {
        ByteBuffer left = ByteBuffer.wrap(bytes);
        long deadlineNs = clock.nowNs() + limitNs;
        channel.write(left);
        while (left.hasRemaining()) {
            long leftNs = deadlineNs - clock.nowNs();
            if (leftNs <= 0) {
                throw new IOException("the far end took only " + left.position() + " of " + bytes.length + " bytes in "
                        + TimeUnit.NANOSECONDS.toMillis(limitNs) + " ms");
            }
            writable.select(toMillisUp(leftNs));
            writable.selectedKeys().clear();
            channel.write(left);
        }
    }

    @Override
    public int read(byte[] into, long timeoutNs) throws LinkException, InterruptedException {
        long deadlineNs = clock.nowNs() + Math.max(0, timeoutNs);
        try {
            while (true) {
                if (Thread.interrupted()) {
                    throw new InterruptedException("interrupted while reading link " + name);
                }
                int count = channel.read(ByteBuffer.wrap(into));
                if (count < 0) {
                    throw new LinkDownException(name, "the far end closed the connection");
                }
                long leftNs = deadlineNs - clock.nowNs();
                if (count > 0 || leftNs <= 0) {
                    return count;
                }
                readable.select(toMillisUp(leftNs));
                readable.selectedKeys().clear();
            }
        } catch (LinkDownException e) {
            throw e;
        } catch (IOException | ClosedSelectorException e) {
            throw new LinkDownException(name, "read failed: " + describe(e), e);
        }
    }

    @Override
    public void discardInput() throws LinkException {
        byte[] sink = new byte[4096];
        ByteBuffer buffer = ByteBuffer.wrap(sink);
        try {
            int count;
            do {
                count = channel.read(buffer.clear());
            } while (count > 0);
        } catch (IOException e) {
            throw new LinkDownException(name, "read failed: " + describe(e), e);
        }
    }

    @Override
    public boolean emergencyWrite(byte[] bytes) {
        boolean locked = writing.tryLock() || tryLockFor100Ms();
        try {
            // even without the lock: the channel itself keeps two writes apart
            return channel.write(ByteBuffer.wrap(bytes)) == bytes.length;
        } catch (IOException e) {
            return false;
        } finally {
            if (locked) {
                writing.unlock();
            }
        }
    }

    private boolean tryLockFor100Ms() {
        try {
            return writing.tryLock(100, TimeUnit.MILLISECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return false;
        }
    }

    @Override
    public ExitRegistration beforeExit(Runnable action) {
        return EXIT.add(action);
    }

    @Override
    public void close() {
        closeQuietly(channel);
        closeQuietly(readable);
        closeQuietly(writable);
    }

    private void closeQuietly(Closeable part) {
        try {
            part.close();
        } catch (IOException e) {
            System.getLogger(SocketLink.class.getName()).log(System.Logger.Level.DEBUG, "closing link " + name, e);
        }
    }

    private static String describe(Exception e) {
        if (e instanceof ClosedChannelException || e instanceof ClosedSelectorException) {
            return "the link was closed";
        }
        String message = e.getMessage();
        return message == null ? e.getClass().getSimpleName() : message;
    }

    private static long toMillisUp(long ns) {
        return Math.max(1, (ns + 999_999) / 1_000_000);
    }
}
