package railproof.rig;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import railproof.run.RunOutcome;

/**
 * The one place where a run is told to end: by the operator, a signal, or trouble. The first cause wins; later ones are
 * kept beside it. Stopping is not queued behind anything: the control thread looks here in every slice of every wait.
 *
 * <p>Thread: any.
 */
public final class StopSignal {
    private final List<String> later = new ArrayList<>();

    @Nullable
    private Cause first;

    private boolean hurried;

    /**
     * Why a run ends.
     *
     * @param end what kind of end
     * @param words in words
     */
    public record Cause(RunOutcome.End end, String words) {}

    /** Asks the run to end; remembers the cause if it is the first. */
    public synchronized void raise(RunOutcome.End end, String words) {
        if (first == null) {
            first = new Cause(end, words);
        } else if (!first.words().equals(words)) {
            later.add(words);
        }
    }

    /** The first cause, if any was raised. */
    public synchronized Optional<Cause> cause() {
        return Optional.ofNullable(first);
    }

    /** The program itself is ending: nothing that can be left out is waited for. */
    public synchronized void hurry() {
        hurried = true;
    }

    /** Whether the program itself is ending. */
    public synchronized boolean hurried() {
        return hurried;
    }

    /** Causes that came after the first. */
    public synchronized List<String> later() {
        return List.copyOf(later);
    }
}
