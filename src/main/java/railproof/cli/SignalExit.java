package railproof.cli;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import railproof.app.ExitStatus;

/**
 * Gives the process its documented exit status when it ends by Ctrl-C or SIGTERM. The JVM would report the signal's
 * number; a script wants to know whether everything is off. A shutdown hook waits for the run to end (the run is told to
 * stop by a hook of its own) and halts with its status.
 */
final class SignalExit implements AutoCloseable {
    private static final long PATIENCE_MS = 4000;

    private final CountDownLatch shown = new CountDownLatch(1);
    private final Thread hook;
    private volatile ExitStatus status = ExitStatus.NOT_SAFE;

    SignalExit(Screen screen) {
        hook = new Thread(() -> halt(screen), "exit-status");
        Runtime.getRuntime().addShutdownHook(hook);
    }

    /** The run has ended, with this status. */
    void status(ExitStatus ended) {
        status = ended;
    }

    private void halt(Screen screen) {
        try {
            if (!shown.await(PATIENCE_MS, TimeUnit.MILLISECONDS)) {
                screen.say("*** The run did not end in time. Look at the bench. ***");
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        screen.flush();
        screen.halt().accept(status.code());
    }

    /** Everything has been shown. */
    @Override
    public void close() {
        shown.countDown();
        try {
            Runtime.getRuntime().removeShutdownHook(hook);
        } catch (IllegalStateException e) {
            System.getLogger("railproof.cli")
                    .log(System.Logger.Level.DEBUG, "a signal came first; its hook ends the process", e);
        }
    }
}
