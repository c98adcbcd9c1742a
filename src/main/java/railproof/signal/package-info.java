/**
 * Pure maths on samples: statistics, whole-cycle averages, ripple, line frequency, spectra, fits, limits found in a
 * traced curve, and the GUM's arithmetic of uncertainty. Every method is stateless and may be called from any thread.
 *
 * <table>
 * <caption>Methods, where they come from, and what limits them</caption>
 * <tr><th>value</th><th>method</th><th>source</th><th>error budget</th></tr>
 * <tr><td>d.c. mean</td><td>{@link railproof.signal.Cycles}: trapezoids over whole line cycles</td>
 *     <td>common practice, no source</td><td>below 2 A / m² for a sine of amplitude A at m samples per cycle; scatter of
 *     the cycles' means</td></tr>
 * <tr><td>line frequency</td><td>{@link railproof.signal.LineFrequency}: harmonic least squares</td>
 *     <td>sine fit of IEEE 1057 (from memory)</td><td>covariance of the fit; the clock is the caller's</td></tr>
 * <tr><td>ripple</td><td>{@link railproof.signal.Ripple}: median over the cycles</td>
 *     <td>bandwidth above 20 Hz: a supply maker's handbook, Application Note 90B, p. 105</td><td>scatter of the cycles;
 *     peaks between samples, at most pp over half a cycle's samples</td></tr>
 * <tr><td>noise in ripple</td><td>{@link railproof.signal.RippleNoise}: expected extremes integrated</td>
 *     <td>order statistics</td><td>a tenth of the correction on sawtooths, a sixth on a flat output
 *     (RippleNoiseTest)</td></tr>
 * <tr><td>regulation</td><td>{@link railproof.signal.Regulation}: difference on one channel</td>
 *     <td>GUM (JCGM 100:2008) 5.1, 5.2</td><td>shared part subtracts, varying parts add in squares</td></tr>
 * <tr><td>onset of the limit</td><td>{@link railproof.signal.LimitTrace}: bracket in constant current</td>
 *     <td>GUM 4.3.7</td><td>rectangle of the bracket with the load's reading; k from the distribution of their
 *     sum</td></tr>
 * <tr><td>reservoir</td><td>{@link railproof.signal.Reservoir}: exact ideal waveform, or slope and step</td>
 *     <td>its equations, against circuit simulation</td><td>source resistance makes C from ripple up to 14 % too large;
 *     C from the slope is free of it</td></tr>
 * <tr><td>reservoir over loads, in a load step</td>
 *     <td>{@link railproof.signal.Discharge}, {@link railproof.signal.ReservoirStep}: straight discharge</td>
 *     <td>C dv/dt = −I, ESR = ΔV / ΔI; against circuit simulation over healthy and aged supplies
 *     (RailAgainstNgspiceTest)</td><td>C 1 %; ESR 8 % at 30 mΩ, 3 % from 60 mΩ up, on the low side</td></tr>
 * <tr><td>lines</td><td>{@link railproof.signal.StraightLine}: least squares about the centre</td>
 *     <td>NIST StRD Norris, GUM H.3</td><td>rounding below 1e-12</td></tr>
 * <tr><td>changes: steps, hold-up, start-up</td>
 *     <td>{@link railproof.signal.Transient}, {@link railproof.signal.Rise}, {@link railproof.signal.HoldUp}: last entry
 *     into the band, tops read by a parabola</td><td>definitions: a supply maker's handbook, Application Note 90B; GUM
 *     4.3.7</td><td>times: one sample as a rectangle, level error over the slope; tops: noise, half a step of a
 *     jump (PeakTest)</td></tr>
 * <tr><td>k and U</td><td>{@link railproof.signal.UncertaintyBudget}, {@link railproof.signal.Coverage}</td>
 *     <td>GUM annex G, EA-4/02 M S9 and S10</td><td>Welch and Satterthwaite, degrees of freedom cut down</td></tr>
 * </table>
 *
 * <p>That the stated intervals hold the true value 93 to 97 times in a hundred is shown by simulation
 * (CoverageBySimulationTest).
 *
 * <p>Must not: know profiles, runs, instruments or files; do I/O or read a clock.
 * Start reading at {@link railproof.signal.Cycles}.
 */
@NullMarked
package railproof.signal;

import org.jspecify.annotations.NullMarked;
