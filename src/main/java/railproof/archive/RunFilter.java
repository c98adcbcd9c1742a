package railproof.archive;

import java.time.Instant;
import java.util.Optional;

/**
 * Which runs are meant; what is empty does not matter.
 *
 * @param unitSerial of this unit
 * @param profileId of this type
 * @param verdict with this verdict
 * @param stage at this stage
 * @param from started at this time or later
 * @param until started before this time
 * @param simulated simulated runs only, or real ones only
 */
public record RunFilter(
        Optional<String> unitSerial,
        Optional<String> profileId,
        Optional<String> verdict,
        Optional<String> stage,
        Optional<Instant> from,
        Optional<Instant> until,
        Optional<Boolean> simulated) {
    /** All runs. */
    public static final RunFilter ALL = new RunFilter(
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty());
}
