package railproof.sim.supply;

/**
 * The Darlington pass stage.
 *
 * @param driver first transistor
 * @param pass second transistor, on the heat sink
 * @param feedOhm resistor from the raw side that feeds the base, Ω
 * @param bleedOhm resistor across the base-emitter junction of the pass transistor, Ω
 */
record PassDesign(BjtModel driver, BjtModel pass, double feedOhm, double bleedOhm) {
    PassDesign {
        Require.positive("feedOhm", feedOhm);
        Require.positive("bleedOhm", bleedOhm);
    }
}
