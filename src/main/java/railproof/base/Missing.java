package railproof.base;

/**
 * A reading that could not be taken.
 *
 * @param reason why, in words a technician understands; never blank
 */
public record Missing(String reason) implements Reading {
    public Missing {
        if (reason.isBlank()) {
            throw new IllegalArgumentException("a missing reading needs its reason");
        }
    }
}
