package railproof.profile;

import java.time.Duration;
import java.util.List;

/**
 * How the supply is to be exercised.
 *
 * @param loadFractions setpoints of the load sweep as fractions of the rated current, ascending, 0 first, 1 last
 * @param lineCycles whole line cycles in every averaged reading and every ripple capture; 2 to 100
 * @param settleBandRatio two successive readings closer than this fraction of nominal count as settled
 * @param settleTimeout longest wait for settling; then the point is taken and marked unsettled
 * @param limitStepRatio step of the current-limit search as a fraction of the rated current
 * @param limitDwell longest time for which an overload may hold the output down
 * @param limitCoolDown time at no load after each such overload
 * @param program which procedures are run, and what is particular to each
 * @param burnIn how it is burnt in
 */
public record Plan(
        List<Double> loadFractions,
        int lineCycles,
        double settleBandRatio,
        Duration settleTimeout,
        double limitStepRatio,
        Duration limitDwell,
        Duration limitCoolDown,
        Program program,
        BurnInPlan burnIn) {
    public Plan {
        loadFractions = List.copyOf(loadFractions);
    }
}
