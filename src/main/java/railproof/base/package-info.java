/**
 * What every other package may use: clocks, units, measured values, located problems, number formatting.
 *
 * <p>Must not: know anything of supplies, instruments or files.
 * Start reading at {@link railproof.base.Measured}.
 */
@NullMarked
package railproof.base;

import org.jspecify.annotations.NullMarked;
