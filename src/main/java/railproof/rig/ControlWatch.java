package railproof.rig;

import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import railproof.run.RunOutcome;

/**
 * Rung 2 of the safe-state ladder: if the control thread gives no sign of life while something is energised, OFF goes
 * out on the raw links without it. Runs on its own thread, {@code rig-watch}.
 */
final class ControlWatch implements AutoCloseable {
    /** Silence that counts as death, ms. The board's own heartbeat timeout is the rung below. */
    static final long SILENCE_MS = 500;

    private static final long LOOK_EVERY_MS = 50;

    private final Rig rig;
    private final SafeStateLadder ladder;
    private final AtomicBoolean fired = new AtomicBoolean();
    private final ReentrantLock lock = new ReentrantLock();
    private final Condition closing = lock.newCondition();
    private boolean closed;
    private final Thread thread;

    ControlWatch(Rig rig, SafeStateLadder ladder) {
        this.rig = rig;
        this.ladder = ladder;
        thread = new Thread(this::watch, "rig-watch");
        thread.setDaemon(true);
    }

    void start() {
        thread.start();
    }

    /** Looks once; split out so that tests need no thread. */
    boolean look() {
        if (rig.guard().isEnergised()
                && rig.guard().silenceNs() > TimeUnit.MILLISECONDS.toNanos(SILENCE_MS)
                && fired.compareAndSet(false, true)) {
            rig.stop()
                    .raise(
                            RunOutcome.End.FAULTED,
                            "the control thread gave no sign of life for "
                                    + TimeUnit.NANOSECONDS.toMillis(rig.guard().silenceNs()) + " ms");
            ladder.emergencyOff();
            return true;
        }
        return false;
    }

    private void watch() {
        lock.lock();
        try {
            while (!closed) {
                if (closing.await(LOOK_EVERY_MS, TimeUnit.MILLISECONDS)) {
                    continue;
                }
                look();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } finally {
            lock.unlock();
        }
    }

    @Override
    public void close() {
        lock.lock();
        try {
            closed = true;
            closing.signalAll();
        } finally {
            lock.unlock();
        }
        boolean interrupted = false;
        while (thread.isAlive()) {
            try {
                thread.join();
            } catch (InterruptedException e) {
                interrupted = true;
            }
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
