package railproof.sim.supply;

import java.util.ArrayList;
import java.util.List;
import railproof.sim.LoadCharacteristic;
import railproof.sim.LoadInput;

/**
 * The nodal equations of one rail, from winding to load, at one instant: resistors, capacitors by their companion
 * conductances, semiconductors linearised about the present iterate.
 *
 * <p>State vector: node voltages (index constants below), ground, the inner voltages of the two electrolytics and of the
 * load's input capacitor, then three slots per transistor and one per diode.
 */
final class RailNetwork {
    static final int WINDING_1 = 0;
    static final int WINDING_2 = 1;
    static final int LIMIT_BASE = 2;
    static final int TAP = 3;
    static final int REFERENCE = 4;
    static final int MIDDLE = 5;
    static final int BASE = 6;
    static final int EMITTER = 7;
    static final int OUT = 8;
    static final int RAW = 9;
    private static final int PLAIN_NODES = 10;
    private static final int LATCH_SLAVE = 10;
    private static final int LATCH_GATE = 11;
    private static final int LATCH_NODES = 12;

    /** Resistors inside the latching trip, Ω: collector lead, gate to common, anode gate. */
    private static final double LATCH_OHM = 1000;

    private static final double STRAY_PER_OHM = 1e-7;
    private static final double LOAD_PROBE_V = 1e-5;
    /** Tolerated error of a rectifier's current, as a share of the rated current: the reservoir smooths it. */
    private static final double RECTIFIER_TOLERANCE_RATIO = 2e-3;
    /** Tolerated error of the load current, likewise. */
    private static final double TOLERANCE_RATIO = 1e-4;

    private static final double REFERENCE_TOLERANCE_A = 1e-6;

    final RailCircuit circuit;
    final int reservoirSlot;
    final int outputSlot;
    final int inputSlot;
    final int stateSize;

    private final int ground;
    private final SmallSystem fixed;
    private final SmallSystem companion;
    private final SmallSystem system;
    private final Transistor driver;
    private final Transistor pass;
    private final List<Transistor> transistors = new ArrayList<>();
    private final List<Junction> junctions = new ArrayList<>();
    private final Transistor limiter;
    private final Transistor error;
    private final Junction zener;
    private final List<Junction> rectifiers = new ArrayList<>();
    private final double nominalLineV;
    private double directPerOhm;
    private double directV;
    private double perS;
    private boolean patterned;
    private double[] historyV = new double[0];
    private double loadPerOhm;
    private double loadOffsetA;

    LoadCharacteristic load = LoadCharacteristic.OPEN;
    private LoadInput input = LoadInput.NONE;

    RailNetwork(RailCircuit circuit, double nominalLineV) {
        this.circuit = circuit;
        this.nominalLineV = nominalLineV;
        RailDesign design = circuit.design;
        boolean latching = design.limiter() instanceof LimiterDesign.Latching;
        int nodes = latching ? LATCH_NODES : PLAIN_NODES;
        ground = nodes;
        reservoirSlot = nodes + 1;
        outputSlot = nodes + 2;
        inputSlot = nodes + 3;
        fixed = new SmallSystem(nodes);
        companion = new SmallSystem(nodes);
        system = new SmallSystem(nodes);
        int slot = nodes + 4;
        driver = add(Transistor.npn(design.pass().driver(), RAW, BASE, MIDDLE, slot));
        slot += Transistor.SLOTS;
        pass = add(Transistor.npn(design.pass().pass(), RAW, MIDDLE, EMITTER, slot));
        slot += Transistor.SLOTS;
        error = add(Transistor.npn(design.amplifier().error(), BASE, TAP, REFERENCE, slot));
        slot += Transistor.SLOTS;
        if (latching) {
            limiter = add(Transistor.pnp(Parts.LATCH_PNP, LATCH_GATE, OUT, EMITTER, slot));
            slot += Transistor.SLOTS;
            add(Transistor.npn(Parts.SIGNAL, LATCH_SLAVE, LATCH_GATE, ground, slot));
            slot += Transistor.SLOTS;
            add(Transistor.pnp(Parts.LATCH_PNP, LATCH_GATE, LATCH_SLAVE, BASE, slot));
            slot += Transistor.SLOTS;
        } else {
            limiter = add(Transistor.npn(Parts.SIGNAL, BASE, LIMIT_BASE, OUT, slot));
            slot += Transistor.SLOTS;
        }
        zener = new Junction(design.reference().zener(), ground, REFERENCE, slot++);
        junctions.add(zener);
        slot = addRectifiers(design.rectifier(), slot);
        stateSize = slot;
    }

    private Transistor add(Transistor transistor) {
        transistors.add(transistor);
        return transistor;
    }

    private int addRectifiers(RectifierDesign rectifier, int firstSlot) {
        int slot = firstSlot;
        boolean second =
                rectifier.kind() == RectifierDesign.Kind.BRIDGE || rectifier.kind() == RectifierDesign.Kind.CENTRE_TAP;
        if (rectifier.kind() != RectifierDesign.Kind.DIRECT) {
            rectifiers.add(new Junction(rectifier.diode(), WINDING_1, RAW, slot++));
        }
        if (second) {
            rectifiers.add(new Junction(rectifier.diode(), WINDING_2, RAW, slot++));
        }
        if (rectifier.kind() == RectifierDesign.Kind.BRIDGE) {
            rectifiers.add(new Junction(rectifier.diode(), ground, WINDING_1, slot++));
            rectifiers.add(new Junction(rectifier.diode(), ground, WINDING_2, slot++));
        }
        junctions.addAll(rectifiers);
        return slot;
    }

    /** Volts of winding per volt of line. */
    private double turnsRatio() {
        return circuit.design.rectifier().secondaryV() / nominalLineV * circuit.inletRatio * circuit.tapRatio;
    }

    private double secondTurnsRatio() {
        return turnsRatio() * (1 - circuit.design.rectifier().mismatchRatio());
    }

    void temperature(double sinkC, double boardC, double ambientC) {
        for (Transistor transistor : transistors) {
            transistor.temperature(transistor == pass || transistor == driver ? sinkC : boardC);
        }
        zener.temperature(boardC);
        for (Junction rectifier : rectifiers) {
            rectifier.temperature(ambientC);
        }
    }

    private void rebuildFixed() {
        RailDesign design = circuit.design;
        fixed.clear();
        fixed.resistor(RAW, BASE, circuit.feedOhm);
        fixed.resistor(RAW, EMITTER, circuit.passShortOhm);
        fixed.resistor(RAW, ground, circuit.reservoirLeakOhm);
        fixed.resistor(MIDDLE, EMITTER, design.pass().bleedOhm());
        fixed.resistor(EMITTER, OUT, circuit.senseOhm);
        fixed.resistor(EMITTER, LIMIT_BASE, circuit.limitBaseOhm);
        fixed.resistor(LIMIT_BASE, ground, circuit.limitLowerOhm);
        fixed.resistor(OUT, TAP, circuit.dividerUpperOhm);
        fixed.resistor(TAP, ground, circuit.dividerLowerOhm);
        fixed.resistor(
                design.reference().fedFromRaw() ? RAW : OUT,
                REFERENCE,
                design.reference().feedOhm());
        fixed.resistor(REFERENCE, ground, circuit.referenceShortOhm);
        fixed.resistor(BASE, OUT, circuit.limitShortOhm);
        fixed.resistor(BASE, REFERENCE, circuit.errorShortOhm);
        stampWinding(design.rectifier().kind());
        if (design.limiter() instanceof LimiterDesign.Latching latching) {
            fixed.resistor(BASE, LATCH_SLAVE, LATCH_OHM);
            fixed.resistor(LATCH_GATE, ground, LATCH_OHM);
            limiter.extraBaseOhm(latching.baseOhm());
            limiter.extraCollectorOhm(LATCH_OHM + circuit.limitCollectorOhm);
        } else {
            limiter.extraCollectorOhm(circuit.limitCollectorOhm);
        }
        driver.gain(circuit.driverGainRatio);
        driver.extraCollectorOhm(circuit.driverCollectorOhm);
        pass.extraCollectorOhm(circuit.passCollectorOhm);
        error.extraCollectorOhm(circuit.errorCollectorOhm);
        zener.extraSeriesOhm(circuit.referenceSeriesOhm);
        zener.breakdownOffset(circuit.referenceOffsetV);
        if (rectifiers.size() > 1) {
            rectifiers.get(1).extraSeriesOhm(circuit.diodeSeriesOhm);
        } else if (!rectifiers.isEmpty()) {
            rectifiers.get(0).extraSeriesOhm(circuit.diodeSeriesOhm);
        }
    }

    private void stampWinding(RectifierDesign.Kind kind) {
        double windingPerOhm = 1 / circuit.windingOhm;
        directPerOhm = 0;
        fixed.conductance(WINDING_2, ground, STRAY_PER_OHM);
        switch (kind) {
            case BRIDGE -> {
                fixed.conductance(WINDING_1, WINDING_2, windingPerOhm);
                fixed.coreA[WINDING_1] = turnsRatio() * windingPerOhm;
                fixed.coreA[WINDING_2] = -turnsRatio() * windingPerOhm;
            }
            case CENTRE_TAP -> {
                fixed.conductance(WINDING_1, ground, windingPerOhm);
                fixed.conductance(WINDING_2, ground, windingPerOhm);
                fixed.coreA[WINDING_1] = turnsRatio() * windingPerOhm;
                fixed.coreA[WINDING_2] = -secondTurnsRatio() * windingPerOhm;
            }
            case HALF_WAVE -> {
                fixed.conductance(WINDING_1, ground, windingPerOhm);
                fixed.coreA[WINDING_1] = turnsRatio() * windingPerOhm;
            }
            case DIRECT -> {
                fixed.conductance(WINDING_1, ground, windingPerOhm);
                fixed.conductance(RAW, ground, windingPerOhm);
                directPerOhm = windingPerOhm;
            }
        }
    }

    /**
     * Sets up one step.
     *
     * @param newPerS weight of the newest point in the time derivative, 1/s; zero for a static solution
     * @param newHistoryV weighted sum of past states, per second
     * @param lineRmsV line setting, V, which a direct source follows
     */
    void prepare(double newPerS, double[] newHistoryV, double lineRmsV) {
        if (circuit.takeTouched()) {
            rebuildFixed();
            companion.adoptPattern(fixed);
        }
        perS = newPerS;
        historyV = newHistoryV;
        directV = turnsRatio() * lineRmsV;
        companion.copyFrom(fixed);
        companion.inject(RAW, directPerOhm * directV);
        if (perS > 0) {
            capacitor(RAW, circuit.reservoirF, circuit.reservoirEsrOhm, reservoirSlot);
            capacitor(OUT, circuit.outputF, circuit.outputEsrOhm, outputSlot);
            if (hasInput()) {
                capacitor(OUT, input.inputF(), input.leadOhm(), inputSlot);
            }
            coupling(BASE, TAP, circuit.compensationF);
            if (circuit.design.limiter() instanceof LimiterDesign.Latching latching) {
                coupling(LATCH_GATE, ground, latching.gateF());
            }
        }
    }

    private void capacitor(int node, double capacitanceF, double esrOhm, int slot) {
        double divisor = 1 + capacitanceF * perS * esrOhm;
        companion.conductance(node, ground, capacitanceF * perS / divisor);
        companion.inject(node, -capacitanceF * historyV[slot] / divisor);
    }

    private void coupling(int a, int b, double capacitanceF) {
        double pastA = capacitanceF * (historyV[a] - historyV[b]);
        companion.conductance(a, b, capacitanceF * perS);
        companion.inject(a, -pastA);
        companion.inject(b, pastA);
    }

    /** Corrects a predicted state where prediction is known to be no good. */
    void tame(double[] predictedV, double[] beforeV) {
        for (Junction rectifier : rectifiers) {
            rectifier.tame(predictedV, beforeV);
        }
    }

    /**
     * Linearises about {@code stateV} and solves.
     *
     * @param coreKnown whether the voltage of the transformer core is {@code coreV}, whatever the rails draw; if not,
     *     the response to it is worked out too
     * @return whether the elimination went through
     */
    boolean solve(double[] stateV, boolean coreKnown, double coreV) {
        system.copyFrom(companion);
        if (!patterned) {
            // by now every companion has been stamped once
            system.adoptPattern(companion);
            patterned = perS > 0;
        }
        for (Junction junction : junctions) {
            junction.stamp(stateV, system);
        }
        for (Transistor transistor : transistors) {
            transistor.stamp(stateV, perS, historyV, system);
        }
        linearLoad(stateV[OUT]);
        system.add(OUT, OUT, loadPerOhm);
        system.inject(OUT, -loadOffsetA);
        if (coreKnown) {
            system.settleCore(coreV);
        }
        return system.solve(!coreKnown);
    }

    /** The load as a straight line at a voltage; below zero volts the line at zero goes on. */
    private void linearLoad(double voltageV) {
        double atV = Math.max(voltageV, 0);
        double atA = load.currentA(atV);
        loadPerOhm = (load.currentA(atV + LOAD_PROBE_V) - atA) / LOAD_PROBE_V;
        loadOffsetA = atA - loadPerOhm * atV;
    }

    private double expectedBelowZeroA(double voltageV) {
        linearLoad(0);
        return loadOffsetA + loadPerOhm * voltageV;
    }

    /** Primary current this rail asks for with the core at a known voltage (or at zero), A; after {@link #solve}. */
    double reflectedA(double coreV) {
        return reflected(system.sourceA, coreV);
    }

    /** Primary current per volt of core, 1/Ω; call after {@link #solve}. */
    double reflectedPerOhm() {
        return reflected(system.coreA, 1);
    }

    private double reflected(double[] nodes, double coreV) {
        double first = turnsRatio();
        return switch (circuit.design.rectifier().kind()) {
            case BRIDGE -> first * (first * coreV - nodes[WINDING_1] + nodes[WINDING_2]) / circuit.windingOhm;
            case CENTRE_TAP ->
                (first * (first * coreV - nodes[WINDING_1])
                                - secondTurnsRatio() * (-secondTurnsRatio() * coreV - nodes[WINDING_2]))
                        / circuit.windingOhm;
            case HALF_WAVE -> first * (first * coreV - nodes[WINDING_1]) / circuit.windingOhm;
            case DIRECT -> 0;
        };
    }

    /**
     * Takes the solution over into {@code stateV}.
     *
     * @return what the linearisation has missed, in tolerances; 1 or less is good
     */
    double update(double[] stateV, double coreV) {
        for (int node = 0; node < ground; node++) {
            stateV[node] = system.sourceA[node] + coreV * system.coreA[node];
        }
        double missed = zener.update(stateV, REFERENCE_TOLERANCE_A);
        double ratedA = circuit.design.ratedA();
        for (Junction rectifier : rectifiers) {
            missed = Math.max(missed, rectifier.update(stateV, RECTIFIER_TOLERANCE_RATIO * ratedA));
        }
        for (Transistor transistor : transistors) {
            missed = Math.max(missed, transistor.update(stateV));
        }
        double expectedA = loadOffsetA + loadPerOhm * stateV[OUT];
        double drawnA = stateV[OUT] >= 0 ? load.currentA(stateV[OUT]) : expectedBelowZeroA(stateV[OUT]);
        return Math.max(missed, Math.abs(drawnA - expectedA) / (TOLERANCE_RATIO * ratedA));
    }

    /** Completes a solved state: the inner voltages of the electrolytics. */
    void complete(double[] stateV) {
        stateV[reservoirSlot] = inner(stateV, RAW, circuit.reservoirF, circuit.reservoirEsrOhm, reservoirSlot);
        stateV[outputSlot] = inner(stateV, OUT, circuit.outputF, circuit.outputEsrOhm, outputSlot);
        stateV[inputSlot] = hasInput() ? inner(stateV, OUT, input.inputF(), input.leadOhm(), inputSlot) : 0;
    }

    /** Hangs a load's input capacitor across the output, or takes it away. */
    void input(LoadInput newInput) {
        input = newInput;
    }

    boolean hasInput() {
        return input.inputF() > 0;
    }

    /** Time constant with which the load's input capacitor and the output capacitor share their charges, s. */
    double inrushS() {
        double seriesF = circuit.outputF * input.inputF() / (circuit.outputF + input.inputF());
        return seriesF * (circuit.outputEsrOhm + input.leadOhm());
    }

    private double inner(double[] stateV, int node, double capacitanceF, double esrOhm, int slot) {
        double intoA = capacitanceF * (perS * stateV[node] + historyV[slot]) / (1 + capacitanceF * perS * esrOhm);
        return stateV[node] - esrOhm * intoA;
    }

    /** Heat in the pass stage, W. */
    double passW(double[] stateV) {
        double throughA = (stateV[EMITTER] - stateV[OUT]) / circuit.senseOhm;
        return Math.max(0, (stateV[RAW] - stateV[EMITTER]) * throughA);
    }
}
