/**
 * The device side of the wire protocols: bytes in, bytes out, and time. Each device also shows what its terminals do,
 * so that the simulated bench can connect it to the supply.
 *
 * <p>Must not: share message or text codecs with the host side. Its parser is written from the standards, so that a
 * misreading on one side shows as a failing exchange.
 * Start reading at {@link railproof.sim.device.SimulatedLoad}.
 */
@NullMarked
package railproof.sim.device;

import org.jspecify.annotations.NullMarked;
