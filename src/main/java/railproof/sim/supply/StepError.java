package railproof.sim.supply;

/** How far a step lies from where the steps before it pointed, in what is tolerated at each node. Pure. */
final class StepError {
    /** Tolerated local error on the reservoir and on the output capacitor, as shares of the nominal output. */
    private static final double RESERVOIR_TOLERANCE_RATIO = 2e-4;

    private static final double OUTPUT_TOLERANCE_RATIO = 5e-5;
    /** The terminals themselves may bend more than the capacitors behind them. */
    private static final double TERMINAL_TOLERANCE_RATIO = 1e-3;

    /**
     * Tolerated local error on the gate of a latching trip, V. A tripped thyristor solves the equations as well as one
     * at rest: only the gate's capacitor keeps a long step from going over to it.
     */
    private static final double GATE_TOLERANCE_V = 5e-3;

    private StepError() {}

    /**
     * The worst node of a rail's candidate step.
     *
     * @param outputRatio tolerance for the output, as a share of the usual one
     */
    static double inTolerances(RailNetwork network, RailHistory history, StepTimes times, double outputRatio) {
        double[] state = history.candidate();
        double worst = differenceV(history, times, state, network.outputSlot) / OUTPUT_TOLERANCE_RATIO;
        worst = Math.max(worst, differenceV(history, times, state, RailNetwork.OUT) / TERMINAL_TOLERANCE_RATIO);
        worst /= outputRatio;
        worst = Math.max(worst, differenceV(history, times, state, network.reservoirSlot) / RESERVOIR_TOLERANCE_RATIO);
        worst = Math.max(worst, differenceV(history, times, state, RailNetwork.RAW) / TERMINAL_TOLERANCE_RATIO);
        worst /= network.circuit.design.nominalV();
        if (network.latching) {
            worst = Math.max(worst, differenceV(history, times, state, RailNetwork.LATCH_GATE) / GATE_TOLERANCE_V);
        }
        return worst;
    }

    private static double differenceV(RailHistory history, StepTimes times, double[] state, int index) {
        return Math.abs(state[index] - times.polynomial(history, index));
    }
}
