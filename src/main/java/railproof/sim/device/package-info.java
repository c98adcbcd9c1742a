/**
 * Simulated instruments: the device side of the wire protocols, with the faults of real converters and relays, but no
 * physics of the supply; that comes through small interfaces.
 *
 * <p>Must not: use the host side's message codecs; only framing is shared. A mistake in a shared codec would agree with
 * itself.
 * Start reading at {@link railproof.sim.device.SimulatedBoard}.
 */
@NullMarked
package railproof.sim.device;

import org.jspecify.annotations.NullMarked;
