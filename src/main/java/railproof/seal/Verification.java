package railproof.seal;

import java.util.List;
import java.util.Optional;

/**
 * What a check of a run or a file found.
 *
 * @param state the answer
 * @param findings what is not as it was sealed; empty unless {@link State#CHANGED}
 * @param notes what a reader should know beside that
 * @param seal the newest seal that holds, if there is one
 */
public record Verification(State state, List<Finding> findings, List<String> notes, Optional<Seal> seal) {
    public Verification {
        findings = List.copyOf(findings);
        notes = List.copyOf(notes);
    }

    /** The answers. */
    public enum State {
        /** Everything is as it was sealed, by a key that is known here. */
        INTACT("intact"),
        /** Something is not as it was sealed. */
        CHANGED("changed"),
        /** There is no seal for it here. */
        UNSIGNED("unsigned"),
        /** As it was sealed, but by a key nobody here knows. */
        UNKNOWN_KEY("sealed with an unknown key");

        private final String words;

        State(String words) {
            this.words = words;
        }

        /** As printed. */
        public String words() {
            return words;
        }
    }

    /**
     * One thing that is not as it was sealed.
     *
     * @param file its name in the run folder
     * @param words what is wrong with it
     */
    public record Finding(String file, String words) {}

    static Verification unsigned(String why) {
        return new Verification(State.UNSIGNED, List.of(), List.of(why), Optional.empty());
    }
}
