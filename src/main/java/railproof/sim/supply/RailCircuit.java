package railproof.sim.supply;

import railproof.sim.Node;
import railproof.sim.supply.LimiterDesign.ConstantCurrent;
import railproof.sim.supply.LimiterDesign.Foldback;
import railproof.sim.supply.LimiterDesign.Latching;

/**
 * The values that one rail of one unit really has: those of the design until a fault changes them. Everything that a
 * fault can do is one number here. The owner calls {@link #touch()} after a change.
 */
final class RailCircuit {
    private static final double BASE_RING_RATIO = 1.3;

    /** "Not fitted": a resistor that conducts nothing that matters. */
    static final double OPEN_OHM = 1e12;

    final RailDesign design;

    /** Voltage at the inlet against the mains, a bad contact or a long lead. */
    double inletRatio = 1;
    /** Winding voltage against the design's. */
    double tapRatio = 1;

    double windingOhm;
    double diodeSeriesOhm;
    double reservoirF;
    double reservoirEsrOhm;
    double reservoirLeakOhm;
    double feedOhm;
    double driverGainRatio;
    double driverCollectorOhm;
    double passCollectorOhm;
    double passShortOhm = OPEN_OHM;
    double senseOhm;
    double limitBaseOhm;
    double limitLowerOhm = OPEN_OHM;
    double limitCollectorOhm;
    double limitShortOhm = OPEN_OHM;
    double errorCollectorOhm;
    double errorShortOhm = OPEN_OHM;
    double dividerUpperOhm;
    double dividerLowerOhm;
    double referenceSeriesOhm;
    double referenceShortOhm = OPEN_OHM;
    double referenceOffsetV;
    double compensationF;
    double outputF;
    double outputEsrOhm;
    /** Peak of a parasitic oscillation seen on the output at rated load, and its frequency. */
    double oscillationV;

    double oscillationHz;

    private boolean touched = true;

    RailCircuit(RailDesign design) {
        this.design = design;
        windingOhm = design.rectifier().windingOhm();
        reservoirF = design.reservoir().capacitanceF();
        reservoirEsrOhm = design.reservoir().esrOhm();
        reservoirLeakOhm = design.reservoir().bleederOhm();
        feedOhm = design.pass().feedOhm();
        driverGainRatio = design.pass().driver().map(BjtModel::gainRatio).orElse(1.0);
        senseOhm = design.limiter().senseOhm();
        dividerUpperOhm = design.amplifier().upperOhm();
        dividerLowerOhm = design.amplifier().lowerOhm();
        compensationF = design.amplifier().compensationF();
        outputF = design.output().capacitanceF();
        outputEsrOhm = design.output().esrOhm();
        if (design.limiter() instanceof ConstantCurrent limiter) {
            limitBaseOhm = limiter.baseOhm();
        } else if (design.limiter() instanceof Foldback limiter) {
            limitBaseOhm = limiter.upperOhm();
            limitLowerOhm = limiter.lowerOhm();
        } else if (design.limiter() instanceof Latching limiter) {
            limitBaseOhm = limiter.baseOhm();
        } else {
            limitBaseOhm = OPEN_OHM;
        }
    }

    /** Says that a value has changed. */
    void touch() {
        touched = true;
    }

    /** Whether a value has changed since the last call. */
    boolean takeTouched() {
        boolean was = touched;
        touched = false;
        return was;
    }

    /** The parasitic oscillation on a node at an instant, V; larger on the base than on the output. */
    double ringV(Node node, double atS, double currentA) {
        if (oscillationV == 0 || (node != Node.OUTPUT && node != Node.BASE)) {
            return 0;
        }
        double shareRatio = Math.min(1, currentA / design.ratedA());
        double cycles = atS * oscillationHz;
        double outputV = oscillationV * shareRatio * Math.sin(2 * Math.PI * (cycles - Math.floor(cycles)));
        return node == Node.BASE ? BASE_RING_RATIO * outputV : outputV;
    }
}
