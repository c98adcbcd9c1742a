package railproof.sim.supply;

/**
 * The heat sink of one rail and how far it warms the board beside it.
 *
 * @param sinkCPerW thermal resistance, sink to surroundings, K/W
 * @param sinkJPerK heat capacity of the sink, J/K
 * @param boardRatio share of the sink's temperature rise that reaches reference, error amplifier and limiter
 */
record ThermalDesign(double sinkCPerW, double sinkJPerK, double boardRatio) {
    ThermalDesign {
        Require.positive("sinkCPerW", sinkCPerW);
        Require.positive("sinkJPerK", sinkJPerK);
        Require.within("boardRatio", boardRatio, 0, 1);
    }
}
