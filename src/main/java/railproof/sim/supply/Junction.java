package railproof.sim.supply;

/**
 * One diode or zener with its series resistance in a rail's equations. The voltage across the inner junction is an
 * unknown of its own, eliminated on the spot, so that series resistance costs no node.
 */
final class Junction {
    /** Share of the critical voltage below which a diode counts as off. */
    private static final double ON_RATIO = 0.7;

    /** Below this a difference of voltages is rounding. */
    private static final double ROUNDING_V = 1e-10;

    private final DiodeModel model;
    private final int anode;
    private final int cathode;
    private final int slot;

    private double saturationA;
    private double slopeV;
    private double criticalV;
    private double breakdownV;
    private double seriesOhm;
    private double offsetV;

    private double grownA;
    private double brokenA;
    private double currentA;
    private double perOhm;
    private double residualV;
    private double inverseDimensionless;

    /**
     * Places a diode.
     *
     * @param slot where its junction voltage lives in the state vector
     */
    Junction(DiodeModel model, int anode, int cathode, int slot, SmallSystem system) {
        system.joins(anode, cathode);
        this.model = model;
        this.anode = anode;
        this.cathode = cathode;
        this.slot = slot;
        seriesOhm = model.seriesOhm();
        temperature(Semiconductor.NOMINAL_C);
    }

    void temperature(double temperatureC) {
        slopeV = model.emissionDimensionless() * Semiconductor.thermalV(temperatureC);
        saturationA = model.saturationA() * Semiconductor.saturationRatio(temperatureC, model.emissionDimensionless());
        criticalV = slopeV * Math.log(slopeV / (Math.sqrt(2) * saturationA));
        breakdownV = model.breakdownV() + model.breakdownVPerK() * (temperatureC - Semiconductor.NOMINAL_C);
    }

    /** Resistance of the diode and whatever is in series with it, Ω. */
    void extraSeriesOhm(double extraOhm) {
        seriesOhm = model.seriesOhm() + extraOhm;
    }

    /** Voltage added to the breakdown voltage: noise, drift, V. */
    void breakdownOffset(double addedV) {
        offsetV = addedV;
    }

    /** Whether the junction stands above a forward voltage in a state. */
    boolean above(double[] stateV, double forwardV) {
        return stateV[slot] > forwardV;
    }

    /** Voltage across the junction at which a current flows forward, V. */
    double forwardV(double currentA) {
        return slopeV * Math.log(currentA / saturationA);
    }

    /** Volts for which the current grows e-fold. */
    double slopeV() {
        return slopeV;
    }

    /** Resistance in series, Ω. */
    double seriesOhm() {
        return seriesOhm;
    }

    /** Lets the solution start from a junction voltage. */
    void start(double[] predictedV, double junctionV) {
        predictedV[slot] = junctionV;
    }

    private void evaluate(double junctionV) {
        double leakPerOhm = Semiconductor.LEAK_PER_OHM;
        grownA = saturationA * Semiconductor.exp(junctionV / slopeV);
        brokenA = 0;
        if (breakdownV > 0) {
            // added, not switched: behind a large series resistance the smallest jump would have no solution
            brokenA = model.breakdownA() * Semiconductor.exp((-breakdownV - offsetV - junctionV) / slopeV);
        }
        currentA = grownA - saturationA - brokenA + leakPerOhm * junctionV;
        perOhm = (grownA + brokenA) / slopeV + leakPerOhm;
    }

    /**
     * Makes the predicted voltage of a rectifier a good place to start from. Coming down from far above, Newton's
     * method walks one thermal voltage at a time, so a diode that was off starts from where it was, and one that was
     * on is not predicted much further on.
     */
    void tame(double[] predictedV, double[] beforeV) {
        double wasV = beforeV[slot];
        double mostV = wasV < ON_RATIO * criticalV ? wasV : wasV + slopeV;
        predictedV[slot] = Math.min(predictedV[slot], Math.max(mostV, -slopeV));
    }

    void stamp(double[] stateV, SmallSystem system) {
        double junctionV = stateV[slot];
        evaluate(junctionV);
        residualV = junctionV + seriesOhm * currentA;
        inverseDimensionless = 1 / (1 + seriesOhm * perOhm);
        double outerPerOhm = perOhm * inverseDimensionless;
        double offsetA = currentA - outerPerOhm * residualV;
        system.conductance(anode, cathode, outerPerOhm);
        system.inject(anode, -offsetA);
        system.inject(cathode, offsetA);
    }

    /**
     * Moves the junction voltage to the new node voltages, limited.
     *
     * @return what the linearisation has missed, in tolerances; very large when the step was cut short
     */
    double update(double[] stateV, double toleranceA) {
        double beforeV = stateV[slot];
        double nextV = beforeV + inverseDimensionless * (stateV[anode] - stateV[cathode] - residualV);
        double takenV = Semiconductor.limited(nextV, beforeV, slopeV, criticalV);
        if (breakdownV > 0) {
            double edgeV = breakdownV + offsetV;
            takenV = -edgeV - Semiconductor.limited(-edgeV - takenV, -edgeV - beforeV, slopeV, 4 * slopeV);
        }
        stateV[slot] = takenV;
        if (Math.abs(takenV - nextV) > ROUNDING_V) {
            return Semiconductor.CUT_SHORT_DIMENSIONLESS;
        }
        double moved = (nextV - beforeV) / slopeV;
        double missedA = grownA == 0 ? 0 : grownA * Semiconductor.missed(moved);
        return (brokenA == 0 ? missedA : missedA + brokenA * Semiconductor.missed(-moved)) / toleranceA;
    }
}
