package railproof.sim.supply;

import java.util.Optional;

/**
 * The pass stage: a Darlington pair or a single transistor.
 *
 * @param driver first transistor of a pair; empty where the pass transistor is driven directly
 * @param pass pass transistor, on the heat sink
 * @param feedOhm resistor from the raw side that feeds the base, Ω
 * @param bleedOhm resistor across the base-emitter junction of the pass transistor, Ω
 */
record PassDesign(Optional<BjtModel> driver, BjtModel pass, double feedOhm, double bleedOhm) {
    PassDesign {
        Require.positive("feedOhm", feedOhm);
        Require.positive("bleedOhm", bleedOhm);
    }

    /** Two transistors, the first of which drives the second. */
    static PassDesign darlington(BjtModel driver, BjtModel pass, double feedOhm, double bleedOhm) {
        return new PassDesign(Optional.of(driver), pass, feedOhm, bleedOhm);
    }

    /** One transistor. */
    static PassDesign single(BjtModel pass, double feedOhm, double bleedOhm) {
        return new PassDesign(Optional.empty(), pass, feedOhm, bleedOhm);
    }
}
