/**
 * Which stage is bad: working back from what was measured to the part that explains it. Pure.
 *
 * <h2>Method</h2>
 *
 * <ol>
 *   <li>{@link railproof.diagnosis.UnitModel} works out what every node of a supply shows, from the values of its parts:
 *       capacitor-input rectifier with source resistance, drops and series resistance of the reservoir, stepped through
 *       the cycle; the regulator's static nodal equations; both together give means, ripple, the current limit.
 *   <li>{@link railproof.diagnosis.Dictionary} does that for sound units and for every fault of
 *       {@link railproof.diagnosis.PartFault}, all part values drawn within their tolerances, each fault in five bands of
 *       severity. In each band the readings are taken as a linear function of the part values plus a rest: that gives
 *       mean and covariance, with all the correlations that tolerances cause.
 *   <li>{@link railproof.diagnosis.Posterior} weighs a set of readings against all bands (multivariate Student's t, so
 *       that one reading the model is wrong about does not decide), adds the priors, and gives probabilities. A reading
 *       that was not taken is left out of both sides.
 *   <li>{@link railproof.diagnosis.NextProbe} asks of every node not yet probed how much a reading there would be
 *       expected to tell, in bits.
 * </ol>
 *
 * <p>Without part values in the profile, {@link railproof.diagnosis.TypicalParts} gives those that a designer would
 * have chosen, with the wide tolerances of not knowing.
 *
 * <p>Must not: use the simulated bench or its values, read files or clocks, or judge limits.
 * Start reading at {@link railproof.diagnosis.Diagnosis}.
 */
@NullMarked
package railproof.diagnosis;

import org.jspecify.annotations.NullMarked;
