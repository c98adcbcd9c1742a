package railproof.wire;

import railproof.base.Clock;

/**
 * Bytes to and from one device. Knows no frames and no instruments.
 *
 * <p>Thread: one owner reads and writes (the control thread); {@link #emergencyWrite}, {@link #beforeExit} and
 * {@link #close} may be called from any thread.
 */
public interface Link extends AutoCloseable {
    /** The name the rig file gives this link, for messages. */
    String name();

    /** The clock in which this link's waits are counted; deadlines of an exchange are taken from it. */
    Clock clock();

    /**
     * Sends all bytes or fails.
     *
     * @throws LinkDownException if the port is gone or took only part of the bytes
     */
    void write(byte[] bytes) throws LinkException;

    /**
     * Waits until at least one byte is there, then returns what is there.
     *
     * @param into where the bytes go, from index 0
     * @param timeoutNs longest wait, ns of {@link #clock()}; zero or negative only looks
     * @return number of bytes read; 0 only if nothing came during the whole timeout
     * @throws LinkDownException if the port is gone
     * @throws InterruptedException if the thread is interrupted while waiting
     */
    int read(byte[] into, long timeoutNs) throws LinkException, InterruptedException;

    /** Throws away what has arrived and was not read. */
    void discardInput() throws LinkException;

    /**
     * Last resort: writes past any queue, waiting at most about 100 ms for another writer. Never throws.
     *
     * @return whether the operating system took all bytes; says nothing of the device
     */
    boolean emergencyWrite(byte[] bytes);

    /**
     * Registers work to be done when the process ends, while the port can still be written. (An ordinary JVM shutdown
     * hook comes too late for a serial port: its library closes the port from a hook of its own.)
     *
     * @return a handle that takes the registration back
     */
    ExitRegistration beforeExit(Runnable action);

    /** Closes the port; frees a reader blocked in {@link #read}. Idempotent, never throws. */
    @Override
    void close();

    /** Takes back an exit action. */
    @FunctionalInterface
    interface ExitRegistration {
        /** The action will not be run any more. Idempotent. */
        void cancel();
    }
}
