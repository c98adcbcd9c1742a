package railproof.sim.supply;

/**
 * Static model of a diode or zener: exponential with series resistance and, for a zener, exponential breakdown.
 *
 * @param saturationA saturation current at 27 °C, A
 * @param emissionDimensionless emission coefficient
 * @param seriesOhm series resistance, Ω
 * @param breakdownV breakdown voltage at 27 °C, V; zero means that the diode does not break down
 * @param breakdownA current at the breakdown voltage, A
 * @param breakdownVPerK temperature coefficient of the breakdown voltage, V/K
 */
record DiodeModel(
        double saturationA,
        double emissionDimensionless,
        double seriesOhm,
        double breakdownV,
        double breakdownA,
        double breakdownVPerK) {

    DiodeModel {
        Require.positive("saturationA", saturationA);
        Require.positive("emissionDimensionless", emissionDimensionless);
        Require.notNegative("seriesOhm", seriesOhm);
        Require.notNegative("breakdownV", breakdownV);
        Require.notNegative("breakdownA", breakdownA);
        Require.within("breakdownVPerK", breakdownVPerK, -1, 1);
    }

    /** The same diode made larger: {@code count} of them in parallel. */
    DiodeModel parallel(double count) {
        return new DiodeModel(
                saturationA * count,
                emissionDimensionless,
                seriesOhm / count,
                breakdownV,
                breakdownA * count,
                breakdownVPerK);
    }

    /** A rectifier diode: no breakdown. */
    static DiodeModel rectifier(double saturationA, double emissionDimensionless, double seriesOhm) {
        return new DiodeModel(saturationA, emissionDimensionless, seriesOhm, 0, 0, 0);
    }
}
