/**
 * Pure maths on samples: statistics, whole-cycle averages, ripple, line frequency, spectra, fits, limits found in a
 * traced curve, and the GUM's arithmetic of uncertainty. Every method is stateless and may be called from any thread.
 *
 * <p>Must not: know profiles, runs, instruments or files; do I/O or read a clock.
 * Start reading at {@link railproof.signal.Cycles}.
 */
@NullMarked
package railproof.signal;

import org.jspecify.annotations.NullMarked;
