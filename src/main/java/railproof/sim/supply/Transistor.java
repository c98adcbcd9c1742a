package railproof.sim.supply;

/**
 * One bipolar transistor in a rail's equations. Its two inner junction voltages are unknowns of their own, eliminated
 * on the spot (static condensation of a 2 by 2 block), so that base, emitter and collector resistance cost no nodes.
 *
 * <p>State slots: {@code slot} base-emitter, {@code slot + 1} base-collector inner voltage, {@code slot + 2} the
 * stored base-emitter charge expressed in coulombs.
 */
final class Transistor {
    static final int SLOTS = 3;
    /** Tolerated error of the collector current, as a share of the current at which the gain rolls off. */
    private static final double TOLERANCE_RATIO = 2e-5;
    /** Mean of a junction capacitance over its forward-biased working range, against its zero-bias value. */
    private static final double FORWARD_CAPACITANCE_RATIO = 1.6;
    /** The same for a reverse-biased collector junction. */
    private static final double REVERSE_CAPACITANCE_RATIO = 0.4;

    private final BjtModel model;
    private final double sign;
    private final int collector;
    private final int base;
    private final int emitter;
    private final int slot;
    private final double emitterF;
    private final double collectorF;

    private final double transitS;
    private final double perEarlyV;
    private final double perKneeA;

    private double perGain;
    private double collectorOhm;
    private double baseOhm;
    private double saturationA;
    private double thermalV;
    private double perThermalV;
    private double criticalV;

    private double baseA;
    private double collectorA;
    private double chargeC;
    private double chargeByBe;
    private double chargeByBc;
    private double forwardA;
    private double reverseGrownA;
    private double baseByBe;
    private double baseByBc;
    private double collectorByBe;
    private double collectorByBc;
    private double residualBeV;
    private double residualBcV;
    private double inverse11;
    private double inverse12;
    private double inverse21;
    private double inverse22;

    private Transistor(BjtModel model, double sign, int[] collectorBaseEmitter, int slot) {
        this.model = model;
        this.sign = sign;
        collector = collectorBaseEmitter[0];
        base = collectorBaseEmitter[1];
        emitter = collectorBaseEmitter[2];
        this.slot = slot;
        emitterF = FORWARD_CAPACITANCE_RATIO * model.emitterF();
        collectorF = REVERSE_CAPACITANCE_RATIO * model.collectorF();
        transitS = model.transitS();
        perEarlyV = 1 / model.earlyV();
        perKneeA = 1 / model.kneeA();
        perGain = 1 / model.gainRatio();
        collectorOhm = model.collectorOhm();
        baseOhm = model.baseOhm();
        temperature(Semiconductor.NOMINAL_C);
    }

    static Transistor npn(BjtModel model, int collector, int base, int emitter, int slot) {
        return new Transistor(model, 1, new int[] {collector, base, emitter}, slot);
    }

    static Transistor pnp(BjtModel model, int collector, int base, int emitter, int slot) {
        return new Transistor(model, -1, new int[] {collector, base, emitter}, slot);
    }

    void temperature(double temperatureC) {
        thermalV = Semiconductor.thermalV(temperatureC);
        perThermalV = 1 / thermalV;
        saturationA = model.saturationA() * Semiconductor.saturationRatio(temperatureC, 1);
        criticalV = thermalV * Math.log(thermalV / (Math.sqrt(2) * saturationA));
    }

    void gain(double changedRatio) {
        perGain = 1 / changedRatio;
    }

    /** Resistance added in the collector lead, Ω. */
    void extraCollectorOhm(double extraOhm) {
        collectorOhm = model.collectorOhm() + extraOhm;
    }

    /** Resistance added in the base lead, Ω. */
    void extraBaseOhm(double extraOhm) {
        baseOhm = model.baseOhm() + extraOhm;
    }

    /** Currents, charge and their derivatives at the inner voltages. */
    private void evaluate(double beV, double bcV, double perS, double chargeHistoryA) {
        double grownBe = Semiconductor.exp(beV * perThermalV);
        double grownBc = Semiconductor.exp(bcV * perThermalV);
        double leakPerOhm = Semiconductor.LEAK_PER_OHM;
        forwardA = saturationA * (grownBe - 1);
        double forwardPerOhm = saturationA * grownBe * perThermalV;
        reverseGrownA = saturationA * grownBc;
        double reverseA = reverseGrownA - saturationA + leakPerOhm * bcV;
        double reversePerOhm = reverseGrownA * perThermalV + leakPerOhm;
        double early = 1 / (1 - bcV * perEarlyV);
        double root = Math.sqrt(1 + 4 * Math.max(forwardA, 0) * perKneeA);
        double baseCharge = early * (1 + root) / 2;
        double inverseCharge = 1 / baseCharge;
        double rolledByBe = early * forwardPerOhm * perKneeA / root;
        double rolledByBc = early * baseCharge * perEarlyV;
        double transportA = (forwardA - reverseA) * inverseCharge;

        collectorA = transportA - reverseA;
        collectorByBe = (forwardPerOhm - transportA * rolledByBe) * inverseCharge;
        collectorByBc = (-reversePerOhm - transportA * rolledByBc) * inverseCharge - reversePerOhm;
        double storedA = forwardA * inverseCharge;
        chargeC = transitS * storedA + emitterF * beV;
        chargeByBe = transitS * (forwardPerOhm - storedA * rolledByBe) * inverseCharge + emitterF;
        chargeByBc = -transitS * storedA * inverseCharge * rolledByBc;
        baseA = forwardA * perGain + leakPerOhm * beV + reverseA + perS * chargeC + chargeHistoryA;
        baseByBe = forwardPerOhm * perGain + leakPerOhm + perS * chargeByBe;
        baseByBc = reversePerOhm + perS * chargeByBc;
    }

    /**
     * Adds this transistor to the equations.
     *
     * @param perS weight of the newest point in the time derivative, 1/s; zero for a static solution
     * @param historyV weighted sum of the past states, same layout as the state vector, per second
     */
    void stamp(double[] stateV, double perS, double[] historyV, SmallSystem system) {
        evaluate(stateV[slot], stateV[slot + 1], perS, perS == 0 ? 0 : historyV[slot + 2]);
        double emitterOhm = model.emitterOhm();
        double a11 = 1 + baseOhm * baseByBe + emitterOhm * (baseByBe + collectorByBe);
        double a12 = baseOhm * baseByBc + emitterOhm * (baseByBc + collectorByBc);
        double a21 = baseOhm * baseByBe - collectorOhm * collectorByBe;
        double a22 = 1 + baseOhm * baseByBc - collectorOhm * collectorByBc;
        double inverse = 1 / (a11 * a22 - a12 * a21);
        inverse11 = a22 * inverse;
        inverse12 = -a12 * inverse;
        inverse21 = -a21 * inverse;
        inverse22 = a11 * inverse;
        residualBeV = stateV[slot] + baseOhm * baseA + emitterOhm * (baseA + collectorA);
        residualBcV = stateV[slot + 1] + baseOhm * baseA - collectorOhm * collectorA;

        double gBaseBe = baseByBe * inverse11 + baseByBc * inverse21;
        double gBaseBc = baseByBe * inverse12 + baseByBc * inverse22;
        double gCollectorBe = collectorByBe * inverse11 + collectorByBc * inverse21;
        double gCollectorBc = collectorByBe * inverse12 + collectorByBc * inverse22;
        double baseOffsetA = sign * (baseA - gBaseBe * residualBeV - gBaseBc * residualBcV);
        double collectorOffsetA = sign * (collectorA - gCollectorBe * residualBeV - gCollectorBc * residualBcV);
        row(system, base, gBaseBe, gBaseBc);
        row(system, collector, gCollectorBe, gCollectorBc);
        row(system, emitter, -gBaseBe - gCollectorBe, -gBaseBc - gCollectorBc);
        system.inject(base, -baseOffsetA);
        system.inject(collector, -collectorOffsetA);
        system.inject(emitter, baseOffsetA + collectorOffsetA);
        stampCollectorCapacitance(system, perS, historyV);
    }

    private void row(SmallSystem system, int node, double byBe, double byBc) {
        system.add(node, base, byBe + byBc);
        system.add(node, emitter, -byBe);
        system.add(node, collector, -byBc);
    }

    private void stampCollectorCapacitance(SmallSystem system, double perS, double[] historyV) {
        if (perS == 0) {
            return;
        }
        system.conductance(base, collector, perS * collectorF);
        double pastA = collectorF * (historyV[base] - historyV[collector]);
        system.inject(base, -pastA);
        system.inject(collector, pastA);
    }

    /**
     * Moves the inner voltages to the new node voltages, limited.
     *
     * @return what the linearisation has missed, in tolerances; very large when the step was cut short
     */
    double update(double[] stateV) {
        double outerBeV = sign * (stateV[base] - stateV[emitter]) - residualBeV;
        double outerBcV = sign * (stateV[base] - stateV[collector]) - residualBcV;
        double beforeBeV = stateV[slot];
        double beforeBcV = stateV[slot + 1];
        double nextBeV = beforeBeV + inverse11 * outerBeV + inverse12 * outerBcV;
        double nextBcV = beforeBcV + inverse21 * outerBeV + inverse22 * outerBcV;
        double takenBeV = Semiconductor.limited(nextBeV, beforeBeV, thermalV, criticalV);
        double takenBcV = Semiconductor.limited(nextBcV, beforeBcV, thermalV, criticalV);
        stateV[slot] = takenBeV;
        stateV[slot + 1] = takenBcV;
        if (takenBeV != nextBeV || takenBcV != nextBcV) {
            return Semiconductor.CUT_SHORT_DIMENSIONLESS;
        }
        stateV[slot + 2] = chargeC + chargeByBe * (nextBeV - beforeBeV) + chargeByBc * (nextBcV - beforeBcV);
        double missedA = (forwardA + saturationA) * Semiconductor.missed((nextBeV - beforeBeV) * perThermalV)
                + (reverseGrownA == 0 ? 0 : reverseGrownA * Semiconductor.missed((nextBcV - beforeBcV) * perThermalV));
        return missedA * perKneeA * (1 / TOLERANCE_RATIO);
    }
}
