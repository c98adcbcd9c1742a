package railproof.wire;

import java.util.OptionalLong;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.ReentrantLock;
import railproof.base.Clock;

/**
 * A cable of no length: the far end is a {@link Peer} in the same process. A write reaches the peer at once. Waiting
 * for bytes moves the link's clock on, only as far as the peer's next event, so that with a virtual clock no real time
 * passes and replies still come at their own instants.
 *
 * <p>Thread: as {@link Link}; a lock keeps the peer to one thread at a time.
 */
public final class MemoryLink implements Link {
    private static final ExitActions EXIT = ExitActions.ofRuntime();

    private final String name;
    private final Clock clock;
    private final Peer peer;
    private final ReentrantLock lock = new ReentrantLock();
    private final ByteQueue inbox = new ByteQueue(1 << 22);
    private volatile boolean closed;

    /** A cable to {@code peer}, in the time of {@code clock}. */
    public MemoryLink(String name, Clock clock, Peer peer) {
        this.name = name;
        this.clock = clock;
        this.peer = peer;
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
        requireOpen();
        lock.lock();
        try {
            deliver(bytes);
        } finally {
            lock.unlock();
        }
    }

    private void deliver(byte[] bytes) {
        peer.advanceTo(clock.nowNs(), this::accept);
        peer.receive(bytes.clone(), this::accept);
    }

    private void accept(byte[] bytes) {
        inbox.put(bytes, bytes.length);
    }

    @Override
    public int read(byte[] into, long timeoutNs) throws LinkException, InterruptedException {
        if (Thread.interrupted()) {
            throw new InterruptedException("interrupted while reading link " + name);
        }
        long deadlineNs = clock.nowNs() + Math.max(0, timeoutNs);
        while (true) {
            requireOpen();
            long waitNs;
            lock.lock();
            try {
                peer.advanceTo(clock.nowNs(), this::accept);
                int taken = inbox.take(into);
                long leftNs = deadlineNs - clock.nowNs();
                if (taken > 0 || leftNs <= 0) {
                    return taken;
                }
                waitNs = waitNs(leftNs);
            } finally {
                lock.unlock();
            }
            clock.sleepNs(waitNs);
        }
    }

    /** Time to the peer's next event or to the deadline, whichever is first; at least 1 ns so that time passes. */
    private long waitNs(long leftNs) {
        OptionalLong next = peer.nextEventNs();
        if (next.isEmpty()) {
            return leftNs;
        }
        return Math.min(leftNs, Math.max(1, next.getAsLong() - clock.nowNs()));
    }

    @Override
    public void discardInput() throws LinkException {
        requireOpen();
        inbox.clear();
    }

    @Override
    public boolean emergencyWrite(byte[] bytes) {
        if (closed) {
            return false;
        }
        // not lock.tryLock(100 ms) alone: that refuses an interrupted thread even when the lock is free
        boolean locked = lock.tryLock() || tryLockFor100Ms();
        if (!locked) {
            return false;
        }
        try {
            deliver(bytes);
            return true;
        } finally {
            lock.unlock();
        }
    }

    private boolean tryLockFor100Ms() {
        try {
            return lock.tryLock(100, TimeUnit.MILLISECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return lock.tryLock();
        }
    }

    @Override
    public ExitRegistration beforeExit(Runnable action) {
        return EXIT.add(action);
    }

    @Override
    public void close() {
        closed = true;
    }

    private void requireOpen() throws LinkDownException {
        if (closed) {
            throw new LinkDownException(name, "the link was closed");
        }
    }
}
