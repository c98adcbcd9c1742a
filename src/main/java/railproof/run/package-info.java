/**
 * The vocabulary of one run, immutable: unit, setpoint, point, waveform, event, outcome. Measuring writes it,
 * understanding reads it; they meet nowhere else.
 *
 * <p>Must not: do I/O, read a clock, or judge.
 * Start reading at {@link railproof.run.RunData}.
 */
@NullMarked
package railproof.run;

import org.jspecify.annotations.NullMarked;
