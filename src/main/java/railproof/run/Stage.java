package railproof.run;

import java.util.Arrays;
import java.util.Optional;

/** Which side of the repair a run stands on. */
public enum Stage {
    /** Before the repair. */
    AS_FOUND("as-found"),
    /** After the repair; the one that can be signed off. */
    AS_LEFT("as-left");

    private final String label;

    Stage(String label) {
        this.label = label;
    }

    /** As written in files and on the command line. */
    public String label() {
        return label;
    }

    /** The stage of that label. */
    public static Optional<Stage> ofLabel(String label) {
        return Arrays.stream(values())
                .filter(stage -> stage.label.equals(label))
                .findFirst();
    }
}
