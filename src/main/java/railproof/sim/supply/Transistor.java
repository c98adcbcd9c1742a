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
    private final double signDimensionless;
    private final int collector;
    private final int base;
    private final int emitter;
    private final int slot;
    private final int baseBase;
    private final int baseCollector;
    private final int baseEmitter;
    private final int collectorBase;
    private final int collectorCollector;
    private final int collectorEmitter;
    private final int emitterBase;
    private final int emitterCollector;
    private final int emitterEmitter;
    private final double emitterF;
    private final double collectorF;

    private final double transitS;
    private final double perEarlyV;
    private final double perKneeA;

    private double perGainRatio;
    private double collectorOhm;
    private double baseOhm;
    private double saturationA;
    private double thermalV;
    private double perThermalV;
    private double criticalV;

    private double baseA;
    private double collectorA;
    private double chargeC;
    private double chargeByBeF;
    private double chargeByBcF;
    private double forwardA;
    private double reverseGrownA;
    private double baseByBePerOhm;
    private double baseByBcPerOhm;
    private double collectorByBePerOhm;
    private double collectorByBcPerOhm;
    private double residualBeV;
    private double residualBcV;
    private double inverse11Dimensionless;
    private double inverse12Dimensionless;
    private double inverse21Dimensionless;
    private double inverse22Dimensionless;

    private Transistor(BjtModel model, double signDimensionless, Leads leads, int slot, SmallSystem system) {
        this.model = model;
        this.signDimensionless = signDimensionless;
        collector = leads.collector();
        base = leads.base();
        emitter = leads.emitter();
        this.slot = slot;
        system.joins(base, collector, emitter);
        baseBase = system.index(base, base);
        baseCollector = system.index(base, collector);
        baseEmitter = system.index(base, emitter);
        collectorBase = system.index(collector, base);
        collectorCollector = system.index(collector, collector);
        collectorEmitter = system.index(collector, emitter);
        emitterBase = system.index(emitter, base);
        emitterCollector = system.index(emitter, collector);
        emitterEmitter = system.index(emitter, emitter);
        emitterF = FORWARD_CAPACITANCE_RATIO * model.emitterF();
        collectorF = REVERSE_CAPACITANCE_RATIO * model.collectorF();
        transitS = model.transitS();
        perEarlyV = 1 / model.earlyV();
        perKneeA = 1 / model.kneeA();
        perGainRatio = 1 / model.gainRatio();
        collectorOhm = model.collectorOhm();
        baseOhm = model.baseOhm();
        temperature(Semiconductor.NOMINAL_C);
    }

    /** The nodes on which a transistor hangs. */
    record Leads(int collector, int base, int emitter) {}

    /** Places a transistor in a system; its inner voltages live in the state vector from {@code slot} on. */
    static Transistor npn(BjtModel model, Leads leads, int slot, SmallSystem system) {
        return new Transistor(model, 1, leads, slot, system);
    }

    /** Likewise. */
    static Transistor pnp(BjtModel model, Leads leads, int slot, SmallSystem system) {
        return new Transistor(model, -1, leads, slot, system);
    }

    void temperature(double temperatureC) {
        thermalV = Semiconductor.thermalV(temperatureC);
        perThermalV = 1 / thermalV;
        saturationA = model.saturationA() * Semiconductor.saturationRatio(temperatureC, 1);
        criticalV = thermalV * Math.log(thermalV / (Math.sqrt(2) * saturationA));
    }

    void gain(double changedRatio) {
        perGainRatio = 1 / changedRatio;
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
        collectorByBePerOhm = (forwardPerOhm - transportA * rolledByBe) * inverseCharge;
        collectorByBcPerOhm = (-reversePerOhm - transportA * rolledByBc) * inverseCharge - reversePerOhm;
        double storedA = forwardA * inverseCharge;
        chargeC = transitS * storedA + emitterF * beV;
        chargeByBeF = transitS * (forwardPerOhm - storedA * rolledByBe) * inverseCharge + emitterF;
        chargeByBcF = -transitS * storedA * inverseCharge * rolledByBc;
        baseA = forwardA * perGainRatio + leakPerOhm * beV + reverseA + perS * chargeC + chargeHistoryA;
        baseByBePerOhm = forwardPerOhm * perGainRatio + leakPerOhm + perS * chargeByBeF;
        baseByBcPerOhm = reversePerOhm + perS * chargeByBcF;
    }

    /**
     * Adds this transistor to the equations.
     *
     * @param perS weight of the newest point in the time derivative, 1/s
     * @param historyV weighted sum of the past states, same layout as the state vector, per second
     */
    void stamp(double[] stateV, double perS, double[] historyV, SmallSystem system) {
        evaluate(stateV[slot], stateV[slot + 1], perS, historyV[slot + 2]);
        double emitterOhm = model.emitterOhm();
        double a11 = 1 + baseOhm * baseByBePerOhm + emitterOhm * (baseByBePerOhm + collectorByBePerOhm);
        double a12 = baseOhm * baseByBcPerOhm + emitterOhm * (baseByBcPerOhm + collectorByBcPerOhm);
        double a21 = baseOhm * baseByBePerOhm - collectorOhm * collectorByBePerOhm;
        double a22 = 1 + baseOhm * baseByBcPerOhm - collectorOhm * collectorByBcPerOhm;
        double inverse = 1 / (a11 * a22 - a12 * a21);
        inverse11Dimensionless = a22 * inverse;
        inverse12Dimensionless = -a12 * inverse;
        inverse21Dimensionless = -a21 * inverse;
        inverse22Dimensionless = a11 * inverse;
        residualBeV = stateV[slot] + baseOhm * baseA + emitterOhm * (baseA + collectorA);
        residualBcV = stateV[slot + 1] + baseOhm * baseA - collectorOhm * collectorA;

        double gBaseBe = baseByBePerOhm * inverse11Dimensionless + baseByBcPerOhm * inverse21Dimensionless;
        double gBaseBc = baseByBePerOhm * inverse12Dimensionless + baseByBcPerOhm * inverse22Dimensionless;
        double gCollectorBe =
                collectorByBePerOhm * inverse11Dimensionless + collectorByBcPerOhm * inverse21Dimensionless;
        double gCollectorBc =
                collectorByBePerOhm * inverse12Dimensionless + collectorByBcPerOhm * inverse22Dimensionless;
        double baseOffsetA = signDimensionless * (baseA - gBaseBe * residualBeV - gBaseBc * residualBcV);
        double collectorOffsetA =
                signDimensionless * (collectorA - gCollectorBe * residualBeV - gCollectorBc * residualBcV);
        double storedPerOhm = perS * collectorF;
        double pastA = collectorF * (historyV[base] - historyV[collector]);
        double baseByBc = gBaseBc + storedPerOhm;
        double collectorByBc = gCollectorBc - storedPerOhm;
        double emitterByBe = -gBaseBe - gCollectorBe;
        double emitterByBc = -gBaseBc - gCollectorBc;
        double[] matrix = system.matrix;
        matrix[baseBase] += gBaseBe + baseByBc;
        matrix[baseEmitter] -= gBaseBe;
        matrix[baseCollector] -= baseByBc;
        matrix[collectorBase] += gCollectorBe + collectorByBc;
        matrix[collectorEmitter] -= gCollectorBe;
        matrix[collectorCollector] -= collectorByBc;
        matrix[emitterBase] += emitterByBe + emitterByBc;
        matrix[emitterEmitter] -= emitterByBe;
        matrix[emitterCollector] -= emitterByBc;
        system.inject(base, -baseOffsetA - pastA);
        system.inject(collector, -collectorOffsetA + pastA);
        system.inject(emitter, baseOffsetA + collectorOffsetA);
    }

    /**
     * Moves the inner voltages to the new node voltages, limited.
     *
     * @return what the linearisation has missed, in tolerances; very large when the step was cut short
     */
    double update(double[] stateV) {
        double outerBeV = signDimensionless * (stateV[base] - stateV[emitter]) - residualBeV;
        double outerBcV = signDimensionless * (stateV[base] - stateV[collector]) - residualBcV;
        double beforeBeV = stateV[slot];
        double beforeBcV = stateV[slot + 1];
        double nextBeV = beforeBeV + inverse11Dimensionless * outerBeV + inverse12Dimensionless * outerBcV;
        double nextBcV = beforeBcV + inverse21Dimensionless * outerBeV + inverse22Dimensionless * outerBcV;
        double takenBeV = Semiconductor.limited(nextBeV, beforeBeV, thermalV, criticalV);
        double takenBcV = Semiconductor.limited(nextBcV, beforeBcV, thermalV, criticalV);
        stateV[slot] = takenBeV;
        stateV[slot + 1] = takenBcV;
        if (takenBeV != nextBeV || takenBcV != nextBcV) {
            return Semiconductor.CUT_SHORT_DIMENSIONLESS;
        }
        stateV[slot + 2] = chargeC + chargeByBeF * (nextBeV - beforeBeV) + chargeByBcF * (nextBcV - beforeBcV);
        double missedA = (forwardA + saturationA) * Semiconductor.missed((nextBeV - beforeBeV) * perThermalV)
                + (reverseGrownA == 0 ? 0 : reverseGrownA * Semiconductor.missed((nextBcV - beforeBcV) * perThermalV));
        return missedA * perKneeA * (1 / TOLERANCE_RATIO);
    }
}
