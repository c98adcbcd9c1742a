/**
 * Simulated instruments: the device side of the wire protocols, with the faults of real converters, relays and meters,
 * but no physics of the supply; that comes through small interfaces.
 *
 * <p>Must not: share message or text codecs with the host side; only framing is shared. A mistake in a shared codec
 * would agree with itself; written twice from the page and the standards, it shows as a failing exchange.
 * Start reading at {@link railproof.sim.device.SimulatedBoard}, then {@link railproof.sim.device.SimulatedLoad}.
 */
@NullMarked
package railproof.sim.device;

import org.jspecify.annotations.NullMarked;
