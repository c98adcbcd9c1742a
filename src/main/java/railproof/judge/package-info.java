/**
 * Readings against limits: verdicts with a stated decision rule. Pure.
 *
 * <p>Must not: do I/O, read a clock, or know rigs and instruments.
 * Start reading at {@link railproof.judge.Judgement}.
 */
@NullMarked
package railproof.judge;

import org.jspecify.annotations.NullMarked;
