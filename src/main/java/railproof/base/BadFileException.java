package railproof.base;

import java.util.List;
import java.util.stream.Collectors;

/** A file the user gave cannot be used. Carries every problem found, not only the first. */
public final class BadFileException extends Exception {
    private final transient List<Problem> problems;

    /**
     * Carries the problems.
     *
     * @param problems at least one
     */
    public BadFileException(List<Problem> problems) {
        super(problems.stream().map(Problem::text).collect(Collectors.joining("\n")));
        if (problems.isEmpty()) {
            throw new IllegalArgumentException("a bad file has at least one problem");
        }
        this.problems = List.copyOf(problems);
    }

    /** All problems found, in file order. */
    public List<Problem> problems() {
        return problems;
    }
}
