package railproof.sim.supply;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import railproof.sim.LoadCharacteristic;
import railproof.sim.LoadInput;
import railproof.sim.supply.Transistor.Leads;

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
    static final int LATCH_GATE = 11;
    private static final int LATCH_NODES = 12;

    /** Resistors inside the latching trip, Ω: collector lead, gate to common, anode gate. */
    private static final double LATCH_OHM = 1000;

    /** Keeps the node of a part that is not fitted in the equations. */
    private static final double UNUSED_PER_OHM = 1e-3;

    private static final double LOAD_PROBE_V = 1e-5;
    /** Tolerated error of the load current, as a share of the rated current. */
    private static final double TOLERANCE_RATIO = 1e-4;

    private static final double REFERENCE_TOLERANCE_A = 1e-6;

    final RailCircuit circuit;
    final boolean latching;
    final int reservoirSlot;
    final int outputSlot;
    final int inputSlot;
    /** Where the state vector keeps how fast the reservoir's inner voltage changes, V/s. */
    private final int reservoirRateSlot;

    final int stateSize;

    private final int ground;
    private final SmallSystem fixed;
    private final SmallSystem companion;
    private final SmallSystem system;
    /** Null where a single transistor is the pass stage, or where nothing limits. */
    @Nullable
    private final Transistor driver;

    @Nullable
    private final Transistor limiter;

    private final Transistor pass;
    private final Transistor error;
    private final Transistor[] transistors;
    private final Junction zener;
    private final RectifierStage rectifier;
    private double perS;
    private double[] historyV = new double[0];
    private double reservoirPerS;
    private double reservoirHistoryVPerS;
    private double loadPerOhm;
    private double loadOffsetA;

    LoadCharacteristic load = LoadCharacteristic.OPEN;
    private LoadInput input = LoadInput.NONE;

    RailNetwork(RailCircuit circuit, double nominalLineV) {
        this.circuit = circuit;
        RailDesign design = circuit.design;
        latching = design.limiter() instanceof LimiterDesign.Latching;
        int nodes = latching ? LATCH_NODES : PLAIN_NODES;
        ground = nodes;
        reservoirSlot = nodes + 1;
        outputSlot = nodes + 2;
        inputSlot = nodes + 3;
        reservoirRateSlot = nodes + 4;
        fixed = new SmallSystem(nodes);
        companion = new SmallSystem(nodes);
        system = new SmallSystem(nodes);
        List<Transistor> placed = new ArrayList<>();
        int slot = nodes + 5;
        driver = design.pass().driver().isEmpty()
                ? null
                : Transistor.npn(design.pass().driver().get(), new Leads(RAW, BASE, MIDDLE), slot, system);
        slot = add(driver, placed, slot);
        pass = Transistor.npn(design.pass().pass(), new Leads(RAW, passBase(), EMITTER), slot, system);
        slot = add(pass, placed, slot);
        error = Transistor.npn(design.amplifier().error(), new Leads(BASE, TAP, REFERENCE), slot, system);
        slot = add(error, placed, slot);
        limiter = limiter(design.limiter(), slot);
        slot = add(limiter, placed, slot);
        if (latching) {
            Leads low = new Leads(LATCH_SLAVE, LATCH_GATE, ground);
            slot = add(Transistor.npn(Parts.SIGNAL, low, slot, system), placed, slot);
            Leads high = new Leads(LATCH_GATE, LATCH_SLAVE, BASE);
            slot = add(Transistor.pnp(Parts.LATCH_PNP, high, slot, system), placed, slot);
        }
        transistors = placed.toArray(new Transistor[0]);
        zener = new Junction(design.reference().zener(), ground, REFERENCE, slot++, system);
        rectifier = new RectifierStage(circuit, nominalLineV, system, ground, slot);
        stateSize = slot + rectifier.slots();
    }

    private static int add(@Nullable Transistor transistor, List<Transistor> placed, int slot) {
        if (transistor == null) {
            return slot;
        }
        placed.add(transistor);
        return slot + Transistor.SLOTS;
    }

    private int passBase() {
        return circuit.design.pass().driver().isPresent() ? MIDDLE : BASE;
    }

    @Nullable
    private Transistor limiter(LimiterDesign design, int slot) {
        if (design instanceof LimiterDesign.None) {
            return null;
        }
        return latching
                ? Transistor.pnp(Parts.LATCH_PNP, new Leads(LATCH_GATE, OUT, EMITTER), slot, system)
                : Transistor.npn(Parts.SIGNAL, new Leads(BASE, LIMIT_BASE, OUT), slot, system);
    }

    void temperature(double sinkC, double boardC, double ambientC) {
        for (Transistor transistor : transistors) {
            transistor.temperature(transistor == pass || transistor == driver ? sinkC : boardC);
        }
        zener.temperature(boardC);
        rectifier.temperature(ambientC);
    }

    private void rebuildFixed() {
        RailDesign design = circuit.design;
        fixed.clear();
        fixed.resistor(RAW, BASE, circuit.feedOhm);
        fixed.resistor(RAW, EMITTER, circuit.passShortOhm);
        fixed.resistor(RAW, ground, circuit.reservoirLeakOhm);
        fixed.resistor(passBase(), EMITTER, design.pass().bleedOhm());
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
        rectifier.stampFixed(fixed);
        parts(design);
    }

    /** What the circuit says of the semiconductors, and of nodes without any. */
    private void parts(RailDesign design) {
        if (driver == null) {
            fixed.conductance(MIDDLE, ground, UNUSED_PER_OHM);
        } else {
            driver.gain(circuit.driverGainRatio);
            driver.extraCollectorOhm(circuit.driverCollectorOhm);
        }
        if (limiter == null) {
            fixed.conductance(LIMIT_BASE, ground, UNUSED_PER_OHM);
        } else {
            limiter(limiter, design.limiter());
        }
        pass.extraCollectorOhm(circuit.passCollectorOhm);
        error.extraCollectorOhm(circuit.errorCollectorOhm);
        zener.extraSeriesOhm(circuit.referenceSeriesOhm);
        zener.breakdownOffset(circuit.referenceOffsetV);
    }

    private void limiter(Transistor transistor, LimiterDesign design) {
        if (design instanceof LimiterDesign.Latching latch) {
            fixed.resistor(BASE, LATCH_SLAVE, LATCH_OHM);
            fixed.resistor(LATCH_GATE, ground, LATCH_OHM);
            transistor.extraBaseOhm(latch.baseOhm());
            transistor.extraCollectorOhm(LATCH_OHM + circuit.limitCollectorOhm);
        } else {
            transistor.extraCollectorOhm(circuit.limitCollectorOhm);
        }
    }

    /**
     * Sets up one step.
     *
     * @param times where the step lies, with its derivative prepared
     * @param newHistoryV weighted sum of past states, per second
     * @param beforeV state at the beginning of the step
     * @param lineRmsV line setting, V, which a direct source follows
     */
    void prepare(StepTimes times, double[] newHistoryV, double[] beforeV, double lineRmsV) {
        boolean changed = circuit.takeTouched();
        if (changed) {
            rebuildFixed();
        }
        perS = times.perS;
        historyV = newHistoryV;
        companion.copyFrom(fixed);
        companion.inject(RAW, rectifier.directA(lineRmsV));
        reservoir(times, beforeV);
        capacitor(OUT, circuit.outputF, circuit.outputEsrOhm, perS, historyV[outputSlot]);
        if (hasInput()) {
            capacitor(OUT, input.inputF(), input.leadOhm(), perS, historyV[inputSlot]);
        }
        coupling(BASE, TAP, circuit.compensationF);
        if (circuit.design.limiter() instanceof LimiterDesign.Latching latch) {
            coupling(LATCH_GATE, ground, latch.gateF());
        }
        if (changed) {
            system.holdsWhatIsIn(companion);
        }
    }

    /**
     * The reservoir, by the trapezoidal rule: its error is three eighths of that of backward differentiation, and in the
     * steps of a charging pulse it is the one that counts. Where a step is long against winding times reservoir the rule
     * would ring, and directly after a break the rate it begins with is not known: there backward differentiation
     * stands.
     */
    private void reservoir(StepTimes times, double[] beforeV) {
        reservoirPerS = perS;
        reservoirHistoryVPerS = historyV[reservoirSlot];
        if (!times.begins() && times.stepS() < circuit.windingOhm * circuit.reservoirF) {
            reservoirPerS = 2 / times.stepS();
            reservoirHistoryVPerS = -reservoirPerS * beforeV[reservoirSlot] - beforeV[reservoirRateSlot];
        }
        capacitor(RAW, circuit.reservoirF, circuit.reservoirEsrOhm, reservoirPerS, reservoirHistoryVPerS);
    }

    private void capacitor(int node, double capacitanceF, double esrOhm, double weightPerS, double pastVPerS) {
        double divisor = 1 + capacitanceF * weightPerS * esrOhm;
        companion.conductance(node, ground, capacitanceF * weightPerS / divisor);
        companion.inject(node, -capacitanceF * pastVPerS / divisor);
    }

    private void coupling(int a, int b, double capacitanceF) {
        double pastA = capacitanceF * (historyV[a] - historyV[b]);
        companion.conductance(a, b, capacitanceF * perS);
        companion.inject(a, -pastA);
        companion.inject(b, pastA);
    }

    /** Whether a rectifier diode is on. */
    boolean conducts(double[] stateV) {
        return rectifier.conducts(stateV);
    }

    /** How far the winding, with nothing drawn from it, is above what turns the rectifier on, V. */
    double excessV(double coreV, double rawV) {
        return rectifier.excessV(coreV, rawV);
    }

    /** Lets the rectifier's diodes start from what winding and resistances leave them. */
    void start(double[] predictedV, double coreV, double primaryOhm) {
        rectifier.start(predictedV, coreV, primaryOhm);
    }

    /** Whether a rectifier diode is on that was off before. */
    boolean turnsOn(double[] beforeV, double[] nowV) {
        return rectifier.turnsOn(beforeV, nowV);
    }

    /** Corrects a predicted state where prediction is known to be no good. */
    void tame(double[] predictedV, double[] beforeV) {
        rectifier.tame(predictedV, beforeV);
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
        zener.stamp(stateV, system);
        rectifier.stamp(stateV, system);
        for (Transistor transistor : transistors) {
            transistor.stamp(stateV, perS, historyV, system);
        }
        linearLoad(stateV[OUT]);
        system.matrix[system.index(OUT, OUT)] += loadPerOhm;
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
        return rectifier.reflectedA(system.sourceA, coreV);
    }

    /** Primary current per volt of core, 1/Ω; call after {@link #solve}. */
    double reflectedPerOhm() {
        return rectifier.reflectedA(system.coreA, 1);
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
        missed = Math.max(missed, rectifier.update(stateV));
        for (Transistor transistor : transistors) {
            missed = Math.max(missed, transistor.update(stateV));
        }
        double expectedA = loadOffsetA + loadPerOhm * stateV[OUT];
        double drawnA = stateV[OUT] >= 0 ? load.currentA(stateV[OUT]) : expectedBelowZeroA(stateV[OUT]);
        return Math.max(missed, Math.abs(drawnA - expectedA) / (TOLERANCE_RATIO * circuit.design.ratedA()));
    }

    /** Completes a solved state: the inner voltages of the electrolytics. */
    void complete(double[] stateV) {
        double rateVPerS = (reservoirPerS * stateV[RAW] + reservoirHistoryVPerS)
                / (1 + circuit.reservoirF * reservoirPerS * circuit.reservoirEsrOhm);
        stateV[reservoirSlot] = stateV[RAW] - circuit.reservoirEsrOhm * circuit.reservoirF * rateVPerS;
        stateV[reservoirRateSlot] = rateVPerS;
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
