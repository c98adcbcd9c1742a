/**
 * What is done to the unit under test: straight-line code over the {@link railproof.rig.Bench}, one class per
 * procedure. Every wait goes through the bench, so a procedure can be stopped at any instant and leaves everything off.
 *
 * <p>Must not: talk to instruments, judge, or wait in any other way.
 * Start reading at {@link railproof.procedure.Qualification}.
 */
@NullMarked
package railproof.procedure;

import org.jspecify.annotations.NullMarked;
