/**
 * The rig: the thread that owns the instruments, what it may do to the unit under test, and how everything ends off.
 *
 * <p>Must not: know supply types, limits or verdicts; parse files ({@code rig.file} does); compute on waveforms.
 * Start reading at {@link railproof.rig.Bench}, then {@link railproof.rig.SafeStateLadder}.
 */
@NullMarked
package railproof.rig;

import org.jspecify.annotations.NullMarked;
