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
 *       them (cross-regulation); each winding has its own resistance. The magnetising current enters the line current
 *       only;
 *   <li>diodes: {@code i = IS (exp(v / N Vt) - 1)} with series resistance; zeners with an exponential breakdown added;
 *   <li>transistors: Gummel-Poon subset with IS, BF, VAF, IKF, RB, RE, RC, forward transit time and constant junction
 *       capacitances (1.6 times the zero-bias value for the conducting, 0.4 times for the blocking junction); IS
 *       follows temperature with 1.11 eV and exponent 3, so that a base-emitter voltage moves by about -2 mV/K and
 *       with it limit and output;
 *   <li>capacitors with series resistance. Integrated states are reservoir, output, compensation and (latching trip)
 *       gate capacitor and the charge of each base-emitter junction;
 *   <li>pass stage: a Darlington pair or a single transistor; limit: constant current, foldback, latching trip, or none,
 *       with a fuse that is a resistor and never blows;
 *   <li>heat sink: one thermal resistance and capacity per rail, integrated exactly for constant power; pass and
 *       driver run at sink temperature, reference, error amplifier and limiter at a stated share of the sink's rise.
 * </ul>
 *
 * <p>Nothing about limits is written down anywhere: knee, foldback, the latch of a constant-current load on a folded
 * supply, failure to start and recovery all follow from the circuit. Behavioural, not solved: the high-frequency
 * oscillation fault, which is laid over the solved voltages; reverse recovery of the rectifiers is left out.
 *
 * <h2>Integration</h2>
 *
 * <p>Second-order backward differentiation with variable step, stable however stiff the output loop is, restarted at
 * 20 ns after a change of line or load; quadratic prediction; step control on reservoir and output (0.2 of the
 * difference between prediction and solution, against 2e-4 and 5e-5 of the nominal output; after a restart the output
 * is followed 16 times more closely, and as usual again after 3.2 ms), at most one step per 34th of a line cycle and
 * 3.5 times finer about the crest. Series resistances of semiconductors are condensed inside each
 * device, so a rail is a system of ten nodes (twelve with a latching trip), eliminated without the zeros. The
 * integrator looks at most one step ahead and interpolates, so asking often costs little and changes nothing.
 *
 * <p>Tables of static operating points were considered: they would be faster still, but are not single-valued for a
 * latching trip, need a dimension for each temperature and drifting part, and have no loop dynamics.
 *
 * <h2>Error budget</h2>
 *
 * <p>Against ngspice 39 on the same circuits (the tests tagged {@code ngspice}; ngspice at 20 µs, relative tolerance
 * 1e-4; worst over three healthy supplies with bridge, half-wave and centre-tapped rectifier, 85 % to 115 % line, no to
 * full load, and 22 faults at four loads):
 *
 * <ul>
 *   <li>mean of raw, output, base, reference and tap: 0.11 %, mostly below 0.02 %;
 *   <li>peak-to-peak ripple of raw and output: 2.5 %, typically 0.5 %, and less than 1 mV (raw) or 50 µV (output);
 *   <li>even line harmonics down to 34 dB below the strongest: within 1 dB;
 *   <li>limit and foldback currents, trip, latch and recovery points: 0.05 %; latched thyristor 0.1 %;
 *   <li>hold-up 0.1 %; dip, overshoot and recovery of load steps of 1 and 2 A in 20 ns to 100 µs: 2 %.
 * </ul>
 *
 * <p>The ideal capacitor-input rectifier agrees with its exact solution within 0.1 % of the peak. Both the reference
 * and this model are circuits with generic devices: how well they stand for a real supply is another question.
 *
 * <p>Thread: a plant is confined to one thread. Everything random comes from the seed in
 * {@link railproof.sim.supply.Surroundings}.
 *
 * <p>Must not: know of instruments, noise of instruments, or bytes.
 * Start reading at {@link railproof.sim.supply.SimulatedUnits}.
 */
@NullMarked
package railproof.sim.supply;

import org.jspecify.annotations.NullMarked;
