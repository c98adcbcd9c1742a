package railproof.instrument;

import java.util.OptionalInt;

/**
 * Why the board switched everything off by itself.
 *
 * @param fault name of the fault it latched first
 * @param channel channel whose limit was broken, if it was a limit
 * @param code the sample that broke it; 0 if it was no limit
 */
public record BoardTrip(String fault, OptionalInt channel, int code) {}
