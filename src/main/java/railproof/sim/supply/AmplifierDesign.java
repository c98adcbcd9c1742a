package railproof.sim.supply;

/**
 * The one-transistor error amplifier and the output divider it watches.
 *
 * @param error the transistor: base on the divider tap, emitter on the reference, collector on the pass base
 * @param upperOhm divider, output to tap, Ω
 * @param lowerOhm divider, tap to common, Ω
 * @param compensationF capacitor from pass base to tap, F
 */
record AmplifierDesign(BjtModel error, double upperOhm, double lowerOhm, double compensationF) {
    AmplifierDesign {
        Require.positive("upperOhm", upperOhm);
        Require.positive("lowerOhm", lowerOhm);
        Require.positive("compensationF", compensationF);
    }
}
