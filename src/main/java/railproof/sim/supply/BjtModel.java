package railproof.sim.supply;

/**
 * Static model of a bipolar transistor: the Gummel-Poon subset with forward Early effect, high-current roll-off and
 * ohmic terminals, plus the two charges that set a regulator's speed. Reverse current gain is 1.
 *
 * @param saturationA transport saturation current at 27 °C, A
 * @param gainRatio ideal forward current gain
 * @param earlyV forward Early voltage, V
 * @param kneeA corner of the high-current gain roll-off, A
 * @param baseOhm base resistance, Ω
 * @param emitterOhm emitter resistance, Ω
 * @param collectorOhm collector resistance, Ω
 * @param transitS forward transit time, s
 * @param emitterF zero-bias base-emitter capacitance, F
 * @param collectorF zero-bias base-collector capacitance, F
 */
record BjtModel(
        double saturationA,
        double gainRatio,
        double earlyV,
        double kneeA,
        double baseOhm,
        double emitterOhm,
        double collectorOhm,
        double transitS,
        double emitterF,
        double collectorF) {

    BjtModel {
        Require.positive("saturationA", saturationA);
        Require.positive("gainRatio", gainRatio);
        Require.positive("earlyV", earlyV);
        Require.positive("kneeA", kneeA);
        Require.notNegative("baseOhm", baseOhm);
        Require.notNegative("emitterOhm", emitterOhm);
        Require.notNegative("collectorOhm", collectorOhm);
        Require.notNegative("transitS", transitS);
        Require.notNegative("emitterF", emitterF);
        Require.notNegative("collectorF", collectorF);
    }

    /** The same transistor made larger: {@code count} of them in parallel. */
    BjtModel parallel(double count) {
        return new BjtModel(
                saturationA * count,
                gainRatio,
                earlyV,
                kneeA * count,
                baseOhm / count,
                emitterOhm / count,
                collectorOhm / count,
                transitS,
                emitterF * count,
                collectorF * count);
    }

    /** The same transistor from a better gain group. */
    BjtModel withGain(double otherGainRatio) {
        return new BjtModel(
                saturationA,
                otherGainRatio,
                earlyV,
                kneeA,
                baseOhm,
                emitterOhm,
                collectorOhm,
                transitS,
                emitterF,
                collectorF);
    }
}
