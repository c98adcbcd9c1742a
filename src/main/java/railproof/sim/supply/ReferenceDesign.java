package railproof.sim.supply;

/**
 * The reference zener and its feed.
 *
 * @param zener the diode
 * @param feedOhm resistor that feeds it, Ω
 * @param fedFromRaw whether the feed comes from the raw side rather than from the output
 */
record ReferenceDesign(DiodeModel zener, double feedOhm, boolean fedFromRaw) {
    ReferenceDesign {
        Require.positive("feedOhm", feedOhm);
    }
}
