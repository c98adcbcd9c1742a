package railproof.ui;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;

/**
 * What somebody should look at: each is shown, and rings, until they say they have seen it.
 *
 * <p>Thread: any.
 */
final class Alarms {
    private static final int MOST = 100;

    private final List<String> open = new ArrayList<>();
    private final Consumer<Boolean> bell;
    private volatile long change;

    /**
     * None yet.
     *
     * @param bell told whether to ring
     */
    Alarms(Consumer<Boolean> bell) {
        this.bell = bell;
    }

    /** One more; the same words are not raised twice. */
    void raise(String words) {
        synchronized (this) {
            if (open.contains(words) || open.size() >= MOST) {
                return;
            }
            open.add(words);
            change = change + 1;
        }
        bell.accept(true);
    }

    /** Somebody has seen all of them. */
    void seen() {
        synchronized (this) {
            open.clear();
            change = change + 1;
        }
        bell.accept(false);
    }

    /** Those nobody has seen yet, the oldest first. */
    synchronized List<String> open() {
        return List.copyOf(open);
    }

    /** Counts changes. */
    long change() {
        return change;
    }
}
