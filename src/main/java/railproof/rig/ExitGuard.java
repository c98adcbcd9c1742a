package railproof.rig;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import railproof.run.RunOutcome;
import railproof.wire.Link;

/**
 * Rung 3 of the safe-state ladder: the process is told to end (Ctrl-C, SIGTERM, window closed). Asks the control thread
 * to stop, gives it {@value #PATIENCE_MS} ms to make everything safe, and sends OFF past it if it does not. Registered
 * with the links, because a serial port is already closed when ordinary shutdown hooks run.
 *
 * <p>Thread: made and closed by the run service; the action runs on the exit hook's thread.
 */
public final class ExitGuard implements AutoCloseable {
    /** How long the control thread gets to end the run by itself, ms. */
    static final long PATIENCE_MS = 1500;

    private final List<Link.ExitRegistration> registrations = new ArrayList<>();
    private final AtomicBoolean begun = new AtomicBoolean();
    private final CountDownLatch safe = new CountDownLatch(1);
    private final Rig rig;
    private final SafeStateLadder ladder;
    private final Runnable first;

    /** Registers with every link of the rig. */
    public ExitGuard(Rig rig, SafeStateLadder ladder) {
        this(rig, ladder, () -> {});
    }

    /**
     * Registers with every link of the rig.
     *
     * @param first what is done before this rig is waited for: other rigs of the process are told to stop, so that
     *     none stays on while another is made safe
     */
    public ExitGuard(Rig rig, SafeStateLadder ladder, Runnable first) {
        this.first = first;
        this.rig = rig;
        this.ladder = ladder;
        for (Link link : rig.links()) {
            registrations.add(link.beforeExit(this::onExit));
        }
    }

    /** The run is over and everything that can be done is done; nothing remains for the exit hook. */
    public void runIsOver() {
        safe.countDown();
    }

    private void onExit() {
        if (!begun.compareAndSet(false, true)) {
            return;
        }
        rig.stop().hurry();
        rig.stop().raise(RunOutcome.End.STOPPED, "the program was told to end");
        first.run();
        boolean over = false;
        try {
            over = safe.await(PATIENCE_MS, TimeUnit.MILLISECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        if (!over) {
            ladder.emergencyOff();
        }
    }

    @Override
    public void close() {
        runIsOver();
        registrations.forEach(Link.ExitRegistration::cancel);
    }
}
