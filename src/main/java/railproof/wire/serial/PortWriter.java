package railproof.wire.serial;

import com.fazecast.jSerialComm.SerialPort;
import java.util.concurrent.BlockingDeque;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.LinkedBlockingDeque;
import java.util.concurrent.TimeUnit;

/**
 * Writes to a port on a thread of its own. The operating systems other than Windows know no write time-out: a peer that
 * does not read blocks the writer for ever, and only closing the port frees it. Whoever waits for a write can so give
 * up in time.
 *
 * <p>Thread: any may submit.
 */
final class PortWriter {
    /** One write and how it went. */
    static final class Job {
        private final byte[] bytes;
        private final CountDownLatch done = new CountDownLatch(1);
        private volatile int written = -1;

        Job(byte[] bytes) {
            this.bytes = bytes.clone();
        }

        /**
         * Waits for the write, in real time; an interrupt does not end the wait, because whether bytes left must be
         * known, and is kept for later.
         *
         * @return whether it is done
         */
        boolean await(long timeoutMs) {
            boolean interrupted = false;
            long deadlineMs = timeoutMs;
            try {
                while (true) {
                    try {
                        return done.await(deadlineMs, TimeUnit.MILLISECONDS);
                    } catch (InterruptedException e) {
                        interrupted = true;
                        deadlineMs = Math.max(1, deadlineMs / 2); // the wait stays bounded without reading a clock
                    }
                }
            } finally {
                if (interrupted) {
                    Thread.currentThread().interrupt();
                }
            }
        }

        /** Whether the system took every byte. */
        boolean complete() {
            return written == bytes.length;
        }

        /** What the library's write returned. */
        int written() {
            return written;
        }

        private void run(SerialPort port) {
            // 0 is what the library returns after a hang-up, -1 on other errors; both are less than asked for
            written = port.writeBytes(bytes, bytes.length);
            done.countDown();
        }
    }

    private final SerialPort port;
    private final BlockingDeque<Job> jobs = new LinkedBlockingDeque<>(64);
    private final Thread thread;
    private volatile boolean stopping;

    PortWriter(String linkName, SerialPort port) {
        this.port = port;
        thread = new Thread(this::run, "link-" + linkName + "-writer");
        thread.setDaemon(true);
        thread.start();
    }

    /** Queues a write behind all others; false if the queue is full. */
    boolean submit(Job job) {
        return !stopping && jobs.offerLast(job);
    }

    /** Queues a write before all others. */
    boolean submitFirst(Job job) {
        return !stopping && jobs.offerFirst(job);
    }

    /**
     * Writes past the writer, on a thread of its own, because the writer may be stuck.
     */
    void runBeside(Job job) {
        Thread beside = new Thread(() -> job.run(port), thread.getName() + "-emergency");
        beside.setDaemon(true);
        beside.start();
    }

    private void run() {
        while (!stopping) {
            try {
                jobs.takeFirst().run(port);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return;
            }
        }
    }

    /** Ends the thread; to be called after the port was closed. */
    void stop() {
        stopping = true;
        thread.interrupt();
        joinBriefly(thread);
    }

    static void joinBriefly(Thread thread) {
        if (Thread.currentThread() == thread) {
            return;
        }
        try {
            thread.join(500);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
