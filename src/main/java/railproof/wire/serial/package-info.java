/**
 * Serial ports. The only home of the serial library, whose traps are handled here and named where they are handled.
 *
 * <p>Must not: know frames or instruments; let a library type out of the package.
 * Start reading at {@link railproof.wire.serial.SerialLink}.
 */
@NullMarked
package railproof.wire.serial;

import org.jspecify.annotations.NullMarked;
