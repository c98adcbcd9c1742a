package railproof.app;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import org.jspecify.annotations.Nullable;
import railproof.procedure.BurnInProgress;

/**
 * The handle on all units that are being burnt in by this process: pause one, go on, stop one or all, see how each
 * stands.
 *
 * <p>Thread: any.
 */
public final class BurnInControl {
    private final Map<String, Handle> handles = new LinkedHashMap<>();

    /** One unit's switches. */
    static final class Handle {
        private volatile boolean held;
        private volatile boolean over;
        private volatile Optional<String> stopWanted = Optional.empty();
        private final AtomicReference<@Nullable RunService> service = new AtomicReference<>();
        private final AtomicReference<@Nullable BurnInProgress> progress = new AtomicReference<>();

        boolean held() {
            return held;
        }

        void progress(BurnInProgress now) {
            progress.set(now);
        }

        /** The run can be stopped from now on. */
        void attach(RunService running) {
            service.set(running);
            stopWanted.ifPresent(running::stop);
        }

        void over() {
            over = true;
        }

        private void stop(String who) {
            stopWanted = Optional.of(who);
            RunService running = service.get();
            if (running != null) {
                running.stop(who);
            }
        }
    }

    BurnInControl(List<String> units) {
        units.forEach(unit -> handles.put(unit, new Handle()));
    }

    Handle handle(String unit) {
        Handle handle = handles.get(unit);
        if (handle == null) {
            throw new IllegalArgumentException("no unit " + unit + " is being burnt in");
        }
        return handle;
    }

    /** The units, in the order they were asked for. */
    public List<String> units() {
        return List.copyOf(handles.keySet());
    }

    /** Load and line of a unit go off soon, and its time stands still. Says whether there is such a unit, still going. */
    public boolean pause(String unit) {
        return hold(unit, true);
    }

    /** A paused unit goes on. Says whether there is such a unit, still going. */
    public boolean goOn(String unit) {
        return hold(unit, false);
    }

    private boolean hold(String unit, boolean held) {
        Handle handle = handles.get(unit);
        if (handle == null || handle.over) {
            return false;
        }
        handle.held = held;
        return true;
    }

    /** Ends a unit's burn-in; load first, then line. Says whether there is such a unit, still going. */
    public boolean stop(String unit, String who) {
        Handle handle = handles.get(unit);
        if (handle == null || handle.over) {
            return false;
        }
        handle.stop(who);
        return true;
    }

    /** Ends all of them. */
    public void stopAll(String who) {
        handles.values().forEach(handle -> handle.stop(who));
    }

    /** How a unit stands; empty before its first word. */
    public Optional<BurnInProgress> progress(String unit) {
        return Optional.ofNullable(handle(unit).progress.get());
    }

    /** Whether a unit's burn-in is over, however it ended. */
    public boolean over(String unit) {
        return handle(unit).over;
    }
}
