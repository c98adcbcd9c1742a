package railproof.rig;

import java.util.Optional;

/**
 * The person at the bench. Asking never blocks: the control thread keeps the bench alive while it waits for an answer.
 *
 * <p>Thread: called by the control thread only; implementations hand over to their own.
 */
public interface Operator {
    /** Shows what is to be done, replacing what was shown before. */
    void ask(String text);

    /** Shows what is to be done, replacing what was shown before; it wants no answer, the bench sees for itself. */
    default void tell(String text) {
        ask(text);
    }

    /** The answer to the last question, once. */
    Optional<String> answer();

    /** Takes the question away. */
    void withdraw();

    /** Shown what the bench does at this moment; nothing of it is on record. For displays that want it. */
    default void sees(Glance glance) {
        // a display without live readings has no use for it
    }

    /** Nobody there: questions stay unanswered. */
    static Operator nobody() {
        return new Operator() {
            @Override
            public void ask(String text) {
                // nobody hears it; the bench's own timeout ends the run
            }

            @Override
            public Optional<String> answer() {
                return Optional.empty();
            }

            @Override
            public void withdraw() {
                // nothing is shown
            }
        };
    }
}
