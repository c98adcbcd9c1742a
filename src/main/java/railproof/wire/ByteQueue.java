package railproof.wire;

import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;

/**
 * A bounded queue of bytes between the thread that reads a port and the thread that owns the link. When full, the
 * newest bytes are dropped and counted: a checksum above notices, and memory stays bounded.
 *
 * <p>Thread: any.
 */
public final class ByteQueue {
    private final ReentrantLock lock = new ReentrantLock();
    private final Condition arrived = lock.newCondition();
    private final int capacity;
    private byte[] ring;
    private int head;
    private int size;
    private long droppedBytes;
    private boolean ended;

    /**
     * An empty queue; memory grows with use.
     *
     * @param capacity most bytes held; at least 1
     */
    public ByteQueue(int capacity) {
        this.capacity = capacity;
        this.ring = new byte[Math.min(capacity, 4096)];
    }

    /** Appends the first {@code length} bytes, as far as they fit. */
    public void put(byte[] bytes, int length) {
        lock.lock();
        try {
            int fits = Math.min(length, capacity - size);
            droppedBytes += length - fits;
            grow(size + fits);
            int tail = (head + size) % ring.length;
            int first = Math.min(fits, ring.length - tail);
            System.arraycopy(bytes, 0, ring, tail, first);
            System.arraycopy(bytes, first, ring, 0, fits - first);
            size += fits;
            arrived.signalAll();
        } finally {
            lock.unlock();
        }
    }

    private void grow(int needed) {
        if (needed <= ring.length) {
            return;
        }
        byte[] larger = new byte[(int) Math.min(capacity, Math.max(needed, 2L * ring.length))];
        int first = Math.min(size, ring.length - head);
        System.arraycopy(ring, head, larger, 0, first);
        System.arraycopy(ring, 0, larger, first, size - first);
        ring = larger;
        head = 0;
    }

    /** Takes what is there, at most {@code into.length} bytes; 0 if nothing is. */
    public int take(byte[] into) {
        lock.lock();
        try {
            int count = Math.min(into.length, size);
            int first = Math.min(count, ring.length - head);
            System.arraycopy(ring, head, into, 0, first);
            System.arraycopy(ring, 0, into, first, count - first);
            head = (head + count) % ring.length;
            size -= count;
            return count;
        } finally {
            lock.unlock();
        }
    }

    /**
     * Waits in real time until something is there or {@link #end} was called.
     *
     * @param timeoutNs longest wait, ns
     */
    public void await(long timeoutNs) throws InterruptedException {
        lock.lockInterruptibly();
        try {
            long leftNs = timeoutNs;
            while (size == 0 && !ended && leftNs > 0) {
                leftNs = arrived.awaitNanos(leftNs);
            }
        } finally {
            lock.unlock();
        }
    }

    /** Wakes whoever waits; from now on nobody waits. */
    public void end() {
        lock.lock();
        try {
            ended = true;
            arrived.signalAll();
        } finally {
            lock.unlock();
        }
    }

    /** Throws away what is there. */
    public void clear() {
        lock.lock();
        try {
            size = 0;
            head = 0;
        } finally {
            lock.unlock();
        }
    }

    /** How many bytes did not fit since the queue was made. */
    public long droppedBytes() {
        lock.lock();
        try {
            return droppedBytes;
        } finally {
            lock.unlock();
        }
    }
}
