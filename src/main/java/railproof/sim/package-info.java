/**
 * The simulated bench: the device side of the wire protocols and the physics of the supply on the bench.
 *
 * <p>Must not: be used by measuring or judging code, or use the host side's message codecs (a shared codec would hide its own mistakes).
 * Start reading at {@link railproof.sim.Plant}.
 */
@NullMarked
package railproof.sim;

import org.jspecify.annotations.NullMarked;
