package railproof.diagnosis;

import java.util.Arrays;

/**
 * The static nodal equations of the series-pass regulator, solved by Newton's method: Darlington pass stage, one-transistor
 * error amplifier on a reference, current limit with or without foldback. Transistors by their transport equations with
 * the Early effect; a transistor with an open collector is what its base-emitter junction leaves. Confined to one thread.
 */
final class Regulator {
    static final int BASE = 0;
    static final int MIDDLE = 1;
    static final int EMITTER = 2;
    static final int OUT = 3;
    static final int TAP = 4;
    static final int REFERENCE = 5;
    private static final int LIMIT_BASE = 6;
    private static final int NODES = 7;
    private static final int RAW = -1;
    private static final int GROUND = -2;

    private static final int ERROR_SLOT = 4;
    private static final double FLOOR_V = 0.6;
    private static final double WIRE_OHM = 0.01;
    private static final double STRAY_PER_OHM = 1e-10;
    /** Drop across a power transistor's own base resistance if it carried the rated current, V. */
    private static final double OPEN_BASE_V = 1;

    private static final double LIMIT_GAIN_RATIO = 150;
    private static final int ITERATIONS = 80;
    private static final double[] MOST_STEPS_V = {3, 0.4};
    private static final int SMALL_STEPS = 12;
    private static final double CLOSE_V = 2e-5;
    private static final double BREAKDOWN_V = 0.02;
    private static final double CRITICAL_V = 0.75;
    /** No junction of these sizes carries what it would take. */
    private static final double MOST_V = 1;

    private final Circuit circuit;
    private final double[][] a = new double[NODES][NODES + 1];
    /** Node voltages of the last solution, V. */
    final double[] nodeV = new double[NODES];

    private final double[] junctionV = new double[8];
    private double rawV;
    private Load lastLoad = Load.current(0);
    private double referenceV;
    private double referencePerOhm;
    private double errorPerOhm;

    Regulator(Circuit circuit) {
        this.circuit = circuit;
        reference(1);
    }

    /** Moves the reference by a factor, as drift and noise do. */
    void reference(double ratio) {
        double standingA = Math.max(1e-5, (circuit.nominalV - circuit.referenceV) / circuit.referenceFeedOhm);
        referenceV = ratio * circuit.referenceV - standingA * circuit.referenceSlopeOhm;
        referencePerOhm = circuit.referenceOpen ? 0 : 1 / circuit.referenceSlopeOhm;
    }

    /**
     * What loads the output.
     *
     * @param currentA constant current above 0.6 V, A
     * @param perOhm conductance beside it, 1/Ω
     */
    record Load(double currentA, double perOhm) {
        static Load current(double currentA) {
            return new Load(currentA, 0);
        }

        double at(double voltageV) {
            return currentA * Math.min(1, Math.max(0, voltageV / FLOOR_V)) + perOhm * voltageV;
        }

        double slope(double voltageV) {
            return perOhm + (voltageV < FLOOR_V && voltageV > -1 ? currentA / FLOOR_V : 0);
        }
    }

    /** Solves from nothing, the raw side brought up in steps. */
    void powerUp(double toRawV, Load load) {
        Arrays.fill(nodeV, 0);
        Arrays.fill(junctionV, 0);
        for (int i = 1; i <= 8; i++) {
            solve(toRawV * i / 8, load);
        }
    }

    /** Solves from where it stands. Where Newton's method wanders off, it goes again in small steps. */
    void solve(double newRawV, Load load) {
        double[] fromV = nodeV.clone();
        double oldRawV = rawV;
        Load oldLoad = lastLoad;
        lastLoad = load;
        rawV = newRawV;
        for (double mostV : MOST_STEPS_V) {
            if (newton(load, mostV)) {
                return;
            }
            System.arraycopy(fromV, 0, nodeV, 0, NODES);
            Arrays.fill(junctionV, 0);
        }
        for (int i = 1; i <= SMALL_STEPS; i++) {
            double part = (double) i / SMALL_STEPS;
            rawV = oldRawV + part * (newRawV - oldRawV);
            Load between = new Load(
                    oldLoad.currentA() + part * (load.currentA() - oldLoad.currentA()),
                    oldLoad.perOhm() + part * (load.perOhm() - oldLoad.perOhm()));
            double[] beforeV = nodeV.clone();
            if (!newton(between, MOST_STEPS_V[1])) {
                // the solution has jumped to another branch, or there is none near: stay
                System.arraycopy(beforeV, 0, nodeV, 0, NODES);
            }
        }
    }

    private boolean newton(Load load, double mostV) {
        for (int i = 0; i < ITERATIONS; i++) {
            stamp(load);
            eliminate();
            double moved = 0;
            for (int n = 0; n < NODES; n++) {
                double step = a[n][NODES] - nodeV[n];
                moved = Math.max(moved, Math.abs(step));
                nodeV[n] += Math.max(-mostV, Math.min(mostV, step));
            }
            if (moved < CLOSE_V) {
                return true;
            }
        }
        return false;
    }

    /** Current out of the raw side, A. */
    double rawA() {
        double passA = (nodeV[EMITTER] - nodeV[OUT]) / circuit.senseOhm;
        double feedA = (rawV - nodeV[BASE]) / circuit.feedOhm;
        return Math.max(0, passA + Math.max(0, feedA));
    }

    /**
     * Return ratio of the error transistor where it stands: how many times over the loop makes up for a change of the
     * output. The transistor's controlled current is replaced by one that is given, and what comes back to its junction
     * is looked at (Bode). Near 0 once the loop has lost the output.
     */
    double loopGain() {
        errorPerOhm = 0;
        stamp(lastLoad);
        conductance(BASE, REFERENCE, TAP, REFERENCE, -errorPerOhm);
        for (double[] row : a) {
            row[NODES] = 0;
        }
        flow(BASE, REFERENCE, errorPerOhm);
        eliminate();
        return Math.max(0, a[REFERENCE][NODES] - a[TAP][NODES]);
    }

    private double v(int node) {
        return node == RAW ? rawV : node == GROUND ? 0 : nodeV[node];
    }

    private void stamp(Load load) {
        for (double[] row : a) {
            Arrays.fill(row, 0);
        }
        for (int n = 0; n < NODES; n++) {
            a[n][n] = STRAY_PER_OHM;
        }
        resistor(BASE, RAW, circuit.feedOhm);
        resistor(EMITTER, RAW, circuit.passShortOhm);
        resistor(MIDDLE, EMITTER, circuit.bleedOhm);
        resistor(EMITTER, OUT, circuit.senseOhm);
        resistor(EMITTER, LIMIT_BASE, circuit.foldUpperOhm);
        resistor(LIMIT_BASE, GROUND, circuit.foldLowerOhm);
        resistor(OUT, TAP, circuit.upperOhm);
        resistor(TAP, GROUND, circuit.lowerOhm);
        resistor(OUT, REFERENCE, circuit.referenceFeedOhm);
        resistor(REFERENCE, GROUND, circuit.referenceShortOhm);
        resistor(BASE, REFERENCE, circuit.errorShortOhm);
        resistor(BASE, OUT, circuit.limitShortOhm);
        if (circuit.hasDriver) {
            transistor(
                    RAW,
                    BASE,
                    MIDDLE,
                    new Device(circuit.driverSaturationA, circuit.driverGainRatio, circuit.driverOpen, 0));
        } else {
            resistor(BASE, MIDDLE, WIRE_OHM);
        }
        transistor(
                RAW, MIDDLE, EMITTER, new Device(circuit.passSaturationA, circuit.passGainRatio, circuit.passOpen, 2));
        transistor(
                BASE,
                TAP,
                REFERENCE,
                new Device(circuit.errorSaturationA, circuit.errorGainRatio, circuit.errorOpen, ERROR_SLOT));
        if (!circuit.noLimiter) {
            transistor(
                    BASE,
                    LIMIT_BASE,
                    OUT,
                    new Device(circuit.limitSaturationA, LIMIT_GAIN_RATIO, circuit.limitOpen, 6));
        }
        breakdown();
        double slopePerOhm = load.slope(nodeV[OUT]);
        a[OUT][OUT] += slopePerOhm;
        a[OUT][NODES] -= load.at(nodeV[OUT]) - slopePerOhm * nodeV[OUT];
    }

    private void resistor(int node, int other, double ohm) {
        double perOhm = 1 / ohm;
        a[node][node] += perOhm;
        if (other >= 0) {
            a[other][other] += perOhm;
            a[node][other] -= perOhm;
            a[other][node] -= perOhm;
        } else {
            a[node][NODES] += perOhm * v(other);
        }
    }

    private void breakdown() {
        double x = (nodeV[REFERENCE] - referenceV) / BREAKDOWN_V;
        double soft = x > 30 ? x : Math.log1p(Math.exp(x));
        double slopePerOhm = referencePerOhm / (1 + Math.exp(-x));
        double current = referencePerOhm * BREAKDOWN_V * soft;
        a[REFERENCE][REFERENCE] += slopePerOhm;
        a[REFERENCE][NODES] -= current - slopePerOhm * nodeV[REFERENCE];
    }

    /**
     * One transistor's values.
     *
     * @param slot where its junction voltages are kept
     */
    private record Device(double saturationA, double gainRatio, boolean open, int slot) {}

    private void transistor(int collector, int base, int emitter, Device device) {
        double saturationA = device.saturationA();
        double gainRatio = device.gainRatio();
        int slot = device.slot();
        double vt = Circuit.THERMAL_V;
        if (device.open()) {
            // no collector current: the junction takes base current only, half of it by way of the collector's own, and
            // the base's own resistance shows
            double share = 1 / gainRatio + 0.5;
            double seriesOhm = OPEN_BASE_V / circuit.ratedA;
            double acrossV = v(base) - v(emitter);
            double current = SeriesDiode.currentA(acrossV, seriesOhm, vt, share * saturationA, acrossV / seriesOhm);
            double perOhm = acrossV <= 0 ? STRAY_PER_OHM : 1 / (seriesOhm + vt / (current + share * saturationA));
            flow(base, emitter, current - perOhm * acrossV);
            conductance(base, emitter, base, emitter, perOhm);
            return;
        }
        double vbe = limited(v(base) - v(emitter), slot);
        double expE = Math.exp(vbe / vt);
        double forwardA = saturationA * (expE - 1);
        double forwardPerOhm = saturationA * expE / vt;
        double vbc = limited(v(base) - v(collector), slot + 1);
        double expC = Math.exp(vbc / vt);
        double reverseA = saturationA * (expC - 1);
        double reversePerOhm = saturationA * expC / vt;
        boolean active = vbc < 0;
        double early = active ? 1 - vbc / circuit.earlyV : 1;
        double through = (forwardA - reverseA) * early;
        double throughBe = forwardPerOhm * early;
        if (slot == ERROR_SLOT) {
            errorPerOhm = throughBe;
        }
        double throughBc = -reversePerOhm * early - (active ? (forwardA - reverseA) / circuit.earlyV : 0);
        flow(collector, emitter, through - throughBe * vbe - throughBc * vbc);
        conductance(collector, emitter, base, emitter, throughBe);
        conductance(collector, emitter, base, collector, throughBc);
        double be = forwardPerOhm / gainRatio;
        flow(base, emitter, forwardA / gainRatio - be * vbe);
        conductance(base, emitter, base, emitter, be);
        flow(base, collector, reverseA - reversePerOhm * vbc);
        conductance(base, collector, base, collector, reversePerOhm);
    }

    /** A constant current from one node to another. */
    private void flow(int from, int to, double current) {
        if (from >= 0) {
            a[from][NODES] -= current;
        }
        if (to >= 0) {
            a[to][NODES] += current;
        }
    }

    /** A current from one node to another, controlled by the voltage between two more. */
    private void conductance(int from, int to, int plus, int minus, double perOhm) {
        add(from, plus, perOhm);
        add(from, minus, -perOhm);
        add(to, plus, -perOhm);
        add(to, minus, perOhm);
    }

    private void add(int row, int column, double perOhm) {
        if (row < 0) {
            return;
        }
        if (column >= 0) {
            a[row][column] += perOhm;
        } else {
            a[row][NODES] -= perOhm * v(column);
        }
    }

    /** Junction voltages may rise only logarithmically from one iterate to the next, or the exponentials run away. */
    private double limited(double wantedV, int slot) {
        double oldV = junctionV[slot];
        double vt = Circuit.THERMAL_V;
        double taken = wantedV;
        if (wantedV > CRITICAL_V - 0.25 && Math.abs(wantedV - oldV) > 2 * vt) {
            if (oldV > 0) {
                double arg = 1 + (wantedV - oldV) / vt;
                taken = arg > 0 ? oldV + vt * Math.log(arg) : CRITICAL_V - 0.25;
            } else {
                taken = vt * Math.log(wantedV / vt);
            }
        }
        taken = Math.min(taken, MOST_V);
        junctionV[slot] = taken;
        return taken;
    }

    private void eliminate() {
        for (int k = 0; k < NODES; k++) {
            int best = k;
            for (int r = k + 1; r < NODES; r++) {
                if (Math.abs(a[r][k]) > Math.abs(a[best][k])) {
                    best = r;
                }
            }
            double[] swap = a[k];
            a[k] = a[best];
            a[best] = swap;
            double pivot = a[k][k];
            for (int r = k + 1; r < NODES; r++) {
                double factor = a[r][k] / pivot;
                if (factor != 0) {
                    for (int c = k + 1; c <= NODES; c++) {
                        a[r][c] -= factor * a[k][c];
                    }
                }
            }
        }
        for (int k = NODES - 1; k >= 0; k--) {
            double sum = a[k][NODES];
            for (int c = k + 1; c < NODES; c++) {
                sum -= a[k][c] * a[c][NODES];
            }
            a[k][NODES] = sum / a[k][k];
        }
    }
}
