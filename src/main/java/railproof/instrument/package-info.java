/**
 * Instruments as the rig sees them, and their drivers over a link: the measuring board, the electronic load, the line
 * source.
 *
 * <p>Must not: know supplies, limits or runs. Drivers are confined to the control thread, except for the methods named
 * {@code emergency...}, which may be called from any thread and never throw.
 * Start reading at {@link railproof.instrument.ElectronicLoad}.
 */
@NullMarked
package railproof.instrument;

import org.jspecify.annotations.NullMarked;
