package railproof.sim.supply;

import java.util.ArrayList;
import java.util.List;
import railproof.sim.supply.RectifierDesign.Kind;

/** Secondary winding and diodes of one rail in its equations: from the transformer core to the raw node. */
final class RectifierStage {
    private static final double STRAY_PER_OHM = 1e-7;
    /** Tolerated error of a diode's current, as a share of the rated current: the reservoir smooths it. */
    private static final double TOLERANCE_RATIO = 1e-2;
    /**
     * A diode counts as on from this share of the rated current on. A step that ends there takes the current for one that
     * has grown evenly all along: with more of it the reservoir would be charged before its time.
     */
    private static final double ON_RATIO = 3e-3;

    private final RailCircuit circuit;
    private final RectifierDesign design;
    private final int ground;
    private final double nominalLineV;
    private final double toleranceA;
    private final double onA;
    private final Junction[] diodes;
    private double directPerOhm;
    /** Voltage at which a diode is on, V. */
    private double onV;

    /**
     * Places winding and diodes.
     *
     * @param firstSlot where the diodes' junction voltages begin in the state vector
     */
    RectifierStage(RailCircuit circuit, double nominalLineV, SmallSystem system, int ground, int firstSlot) {
        this.circuit = circuit;
        this.nominalLineV = nominalLineV;
        this.ground = ground;
        design = circuit.design.rectifier();
        toleranceA = TOLERANCE_RATIO * circuit.design.ratedA();
        onA = ON_RATIO * circuit.design.ratedA();
        List<Junction> placed = new ArrayList<>();
        Kind kind = design.kind();
        int slot = firstSlot;
        if (kind != Kind.DIRECT) {
            placed.add(new Junction(design.diode(), RailNetwork.WINDING_1, RailNetwork.RAW, slot++, system));
        }
        if (kind == Kind.BRIDGE || kind == Kind.CENTRE_TAP) {
            placed.add(new Junction(design.diode(), RailNetwork.WINDING_2, RailNetwork.RAW, slot++, system));
        }
        if (kind == Kind.BRIDGE) {
            placed.add(new Junction(design.diode(), ground, RailNetwork.WINDING_1, slot++, system));
            placed.add(new Junction(design.diode(), ground, RailNetwork.WINDING_2, slot, system));
        }
        diodes = placed.toArray(new Junction[0]);
    }

    /** How many slots of the state vector the diodes take. */
    int slots() {
        return diodes.length;
    }

    /** Volts of winding per volt of line. */
    private double turnsRatio() {
        return design.secondaryV() / nominalLineV * circuit.inletRatio * circuit.tapRatio;
    }

    private double secondTurnsRatio() {
        return turnsRatio() * (1 - design.mismatchRatio());
    }

    void temperature(double temperatureC) {
        for (Junction diode : diodes) {
            diode.temperature(temperatureC);
        }
        onV = diodes.length == 0 ? 0 : diodes[0].forwardV(onA);
    }

    /** Puts the winding, and what the circuit says of the diodes, into the part of the equations that stands still. */
    void stampFixed(SmallSystem fixed) {
        double windingPerOhm = 1 / circuit.windingOhm;
        int first = RailNetwork.WINDING_1;
        int second = RailNetwork.WINDING_2;
        directPerOhm = 0;
        fixed.conductance(second, ground, STRAY_PER_OHM);
        switch (design.kind()) {
            case BRIDGE -> {
                fixed.conductance(first, second, windingPerOhm);
                fixed.coreA[first] = turnsRatio() * windingPerOhm;
                fixed.coreA[second] = -turnsRatio() * windingPerOhm;
            }
            case CENTRE_TAP -> {
                fixed.conductance(first, ground, windingPerOhm);
                fixed.conductance(second, ground, windingPerOhm);
                fixed.coreA[first] = turnsRatio() * windingPerOhm;
                fixed.coreA[second] = -secondTurnsRatio() * windingPerOhm;
            }
            case HALF_WAVE -> {
                fixed.conductance(first, ground, windingPerOhm);
                fixed.coreA[first] = turnsRatio() * windingPerOhm;
            }
            case DIRECT -> {
                fixed.conductance(first, ground, windingPerOhm);
                fixed.conductance(RailNetwork.RAW, ground, windingPerOhm);
                directPerOhm = windingPerOhm;
            }
        }
        if (diodes.length > 0) {
            // the one that a fault may open: the second where there are several
            diodes[Math.min(1, diodes.length - 1)].extraSeriesOhm(circuit.diodeSeriesOhm);
        }
    }

    /** Current that a direct source pushes into the raw node at a line setting, A; nothing behind a rectifier. */
    double directA(double lineRmsV) {
        return directPerOhm == 0 ? 0 : directPerOhm * turnsRatio() * lineRmsV;
    }

    /** Whether any diode is on. */
    boolean conducts(double[] stateV) {
        for (Junction diode : diodes) {
            if (diode.above(stateV, onV)) {
                return true;
            }
        }
        return false;
    }

    /** How far the winding, with nothing drawn from it, is above what turns the diodes on, V; at rest it is negative. */
    double excessV(double coreV, double rawV) {
        return switch (design.kind()) {
            case BRIDGE -> Math.abs(turnsRatio() * coreV) - rawV - 2 * onV;
            case CENTRE_TAP -> Math.max(turnsRatio() * coreV, -secondTurnsRatio() * coreV) - rawV - onV;
            case HALF_WAVE -> turnsRatio() * coreV - rawV - onV;
            case DIRECT -> Double.NEGATIVE_INFINITY;
        };
    }

    /** Whether a diode is on that was off before. */
    boolean turnsOn(double[] beforeV, double[] nowV) {
        for (Junction diode : diodes) {
            if (diode.above(nowV, onV) && !diode.above(beforeV, onV)) {
                return true;
            }
        }
        return false;
    }

    /** Corrects a predicted state where prediction is known to be no good. */
    void tame(double[] predictedV, double[] beforeV) {
        for (Junction diode : diodes) {
            diode.tame(predictedV, beforeV);
        }
    }

    /**
     * Lets the diodes in the way of the charge start from where winding, resistances and exponentials agree on the
     * current: a polynomial through their past knows nothing of the knee and costs several rounds.
     *
     * @param coreV voltage of the core with nothing drawn by this rail, V
     * @param primaryOhm resistance before the core, Ω
     */
    void start(double[] predictedV, double coreV, double primaryOhm) {
        double ohm = circuit.windingOhm + turnsRatio() * turnsRatio() * primaryOhm;
        double slopeV = 0;
        for (int i = 0; i < diodes.length; i++) {
            if (inTheWay(i, coreV)) {
                ohm += diodes[i].seriesOhm();
                slopeV += diodes[i].slopeV();
            }
        }
        double grown = grown(excessV(coreV, predictedV[RailNetwork.RAW]), ohm, slopeV);
        for (int i = 0; i < diodes.length; i++) {
            if (inTheWay(i, coreV)) {
                diodes[i].start(predictedV, onV + diodes[i].slopeV() * Math.log(grown));
            }
        }
    }

    /** Whether the charge flows through a diode when it flows: in a bridge the first and last, or the two others. */
    private boolean inTheWay(int diode, double coreV) {
        return (diode == 0 || diode == 3) == coreV > 0;
    }

    /**
     * Current at which resistance and exponential share the excess, by two steps of Newton's method; counted in the
     * current with which a diode is on, and not below it.
     */
    private double grown(double excessV, double ohm, double slopeV) {
        double ohmicV = ohm * onA;
        double current = Math.max(1, excessV / (ohmicV + slopeV));
        for (int i = 0; i < 2; i++) {
            double leftV = excessV - ohmicV * current - slopeV * Math.log(current);
            current = Math.max(1, current + leftV / (ohmicV + slopeV / current));
        }
        return current;
    }

    void stamp(double[] stateV, SmallSystem system) {
        for (Junction diode : diodes) {
            diode.stamp(stateV, system);
        }
    }

    /** Moves the junctions on; what the linearisation has missed, in tolerances. */
    double update(double[] stateV) {
        double missed = 0;
        for (Junction diode : diodes) {
            missed = Math.max(missed, diode.update(stateV, toleranceA));
        }
        return missed;
    }

    /** Primary current for solved node voltages with the core at a voltage, A. */
    double reflectedA(double[] nodesV, double coreV) {
        double first = turnsRatio();
        return switch (design.kind()) {
            case BRIDGE ->
                first
                        * (first * coreV - nodesV[RailNetwork.WINDING_1] + nodesV[RailNetwork.WINDING_2])
                        / circuit.windingOhm;
            case CENTRE_TAP ->
                (first * (first * coreV - nodesV[RailNetwork.WINDING_1])
                                - secondTurnsRatio() * (-secondTurnsRatio() * coreV - nodesV[RailNetwork.WINDING_2]))
                        / circuit.windingOhm;
            case HALF_WAVE -> first * (first * coreV - nodesV[RailNetwork.WINDING_1]) / circuit.windingOhm;
            case DIRECT -> 0;
        };
    }
}
