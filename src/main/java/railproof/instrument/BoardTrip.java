package railproof.instrument;

import java.util.Optional;
import java.util.OptionalInt;

/**
 * Why the board switched everything off by itself.
 *
 * @param fault name of the fault it latched first
 * @param channel channel whose limit was broken, if it was a limit
 * @param code the sample that broke it; 0 if it was no limit
 * @param ticks device clock at that instant
 */
public record BoardTrip(String fault, OptionalInt channel, int code, long ticks) {
    /** "No channel" on the wire. */
    private static final int NO_CHANNEL = 255;

    /** Reads the answer to FAULT_READ; empty if no fault is latched. */
    static Optional<BoardTrip> of(PayloadReader fault) {
        if (fault.get("latched") == 0) {
            return Optional.empty();
        }
        int channel = fault.getInt("channel");
        return Optional.of(new BoardTrip(
                String.join(",", BoardFault.names(1L << fault.getInt("first_fault"))),
                channel == NO_CHANNEL ? OptionalInt.empty() : OptionalInt.of(channel),
                (int) fault.get("code"),
                fault.get("ticks")));
    }

    /** In words. */
    String text() {
        String where = channel.isPresent() ? " on channel " + channel.getAsInt() + " at code " + code : "";
        return fault + where + " at tick " + ticks;
    }
}
