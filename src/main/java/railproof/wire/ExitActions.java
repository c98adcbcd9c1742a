package railproof.wire;

import java.time.Duration;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Consumer;

/**
 * What is done while the process ends, one after another in the order of registration, within a total bound: a hook
 * that never returns would keep the process, and with it the bench, for ever.
 *
 * <p>Thread: any.
 */
public final class ExitActions {
    private static final System.Logger LOG = System.getLogger(ExitActions.class.getName());

    private static final class Entry {
        private final Runnable action;

        Entry(Runnable action) {
            this.action = action;
        }
    }

    private final Consumer<Thread> registrar;
    private final Duration bound;
    private final List<Entry> actions = new CopyOnWriteArrayList<>();
    private final AtomicBoolean registered = new AtomicBoolean();

    /**
     * No actions yet; nothing is registered before the first.
     *
     * @param registrar registers a not yet started thread with whatever runs hooks
     * @param bound longest time all actions may take together
     */
    public ExitActions(Consumer<Thread> registrar, Duration bound) {
        this.registrar = registrar;
        this.bound = bound;
    }

    /** For links that the virtual machine's own shutdown leaves alone. */
    static ExitActions ofRuntime() {
        return new ExitActions(Runtime.getRuntime()::addShutdownHook, Duration.ofSeconds(2));
    }

    /** Adds an action; the handle takes it back. Does nothing if the process is ending already. */
    public Link.ExitRegistration add(Runnable action) {
        // an object of its own, so that the same action registered twice is two entries
        Entry own = new Entry(action);
        actions.add(own);
        if (registered.compareAndSet(false, true)) {
            try {
                registrar.accept(new Thread(this::runBounded, "link-exit"));
            } catch (IllegalStateException ending) {
                LOG.log(System.Logger.Level.DEBUG, "the process is ending already", ending);
            }
        }
        return () -> actions.remove(own);
    }

    private void runBounded() {
        Thread worker = new Thread(this::runAll, "link-exit-actions");
        worker.setDaemon(true);
        worker.start();
        try {
            worker.join(bound.toMillis());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void runAll() {
        for (Entry entry : actions) {
            runOne(entry.action);
        }
    }

    @SuppressWarnings("IllegalCatch") // one failed action must not keep the next device from being switched off
    private static void runOne(Runnable action) {
        try {
            action.run();
        } catch (RuntimeException e) {
            LOG.log(System.Logger.Level.ERROR, "an exit action failed", e);
        }
    }
}
