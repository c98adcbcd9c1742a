/**
 * The physics of the supply on the simulated bench: transformer, rectifier, reservoir, series-pass regulator with its
 * current limit, heat sink.
 *
 * <h2>Model</h2>
 *
 * <p>Every rail is solved as the circuit it is. At each inner step {@link railproof.sim.supply.RailNetwork} sets up
 * the nodal equations of the whole rail from the transformer winding to the load and solves them by Newton's method:
 *
 * <ul>
 *   <li>mains: sine with optional third and fifth harmonic; feed and primary resistance common to all rails couples
 *       them (cross-regulation); each winding has its own resistance;
 *   <li>diodes: {@code i = IS (exp(v / N Vt) - 1)} with series resistance; zeners with exponential breakdown;
 *   <li>transistors: Gummel-Poon subset with IS, BF, VAF, IKF, RB, RE, RC, forward transit time and constant junction
 *       capacitances; {@code IS} follows temperature with 1.11 eV and exponent 3, so that the base-emitter voltage
 *       moves by about -2 mV/K and with it limit and output;
 *   <li>capacitors with series resistance; the reservoir and output electrolytics, compensation and (latching trip)
 *       gate capacitor are the integrated states;
 *   <li>heat sink: one thermal resistance and capacity per rail; pass and driver run at sink temperature, reference,
 *       error amplifier and limiter at a stated share of the sink's rise.
 * </ul>
 *
 * <p>Nothing about limits is written down anywhere: knee, foldback, the latch of a constant-current load on a folded
 * supply, failure to start and recovery all follow from the circuit.
 *
 * <h2>Integration</h2>
 *
 * <p>Second-order backward differentiation with variable step (A- and L-stable, so the stiff output loop costs
 * nothing while it is settled), step control on reservoir and output voltage, restart at 0.1 µs after a change of line
 * or load. Series resistances of semiconductors are condensed inside each device, so a rail is a system of ten nodes
 * (twelve with a latching trip). A table of static operating points would be faster still, but is not single-valued
 * for a latching trip, needs a dimension for each temperature and drifting part, and has no loop dynamics.
 *
 * <p>Must not: know of instruments, noise of instruments, or bytes.
 * Start reading at {@link railproof.sim.supply.SimulatedUnits}.
 */
@NullMarked
package railproof.sim.supply;

import org.jspecify.annotations.NullMarked;
