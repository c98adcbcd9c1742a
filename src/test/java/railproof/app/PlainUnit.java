package railproof.app;

import java.util.List;
import railproof.sim.LoadCharacteristic;
import railproof.sim.Node;
import railproof.sim.Plant;

/**
 * A unit simple enough to be calculated by hand and a thousand times as fast as the real model: an ideal source with an
 * output resistance and a hard current limit, fed by a sine. For tests of everything around the unit.
 */
final class PlainUnit implements Plant {
    private static final double OPEN_V = 5.02;
    private static final double OUTPUT_OHM = 0.005;
    private static final double LIMIT_A = 2.55;

    private LoadCharacteristic load = LoadCharacteristic.OPEN;
    private double timeS;
    private double lineV;
    private double lineHz = 60;
    private volatile double runAwayV;

    @Override
    public List<String> railNames() {
        return List.of("+5V");
    }

    @Override
    public double timeS() {
        return timeS;
    }

    @Override
    public void line(double rmsV, double frequencyHz) {
        lineV = rmsV;
        lineHz = frequencyHz;
    }

    @Override
    public void load(int rail, LoadCharacteristic characteristic) {
        load = characteristic;
    }

    @Override
    public void advanceTo(double targetS) {
        timeS = targetS;
    }

    /** Its regulation is gone from now on: two volts more. */
    void runAway() {
        runAwayV = 2;
    }

    /** Where supply and load meet: bisection on the voltage, because one curve falls and the other rises. */
    private double outputV() {
        if (lineV < 60) {
            return 0;
        }
        if (load == LoadCharacteristic.OPEN) {
            return OPEN_V;
        }
        double low = 0;
        double high = OPEN_V;
        // 5 V halved 30 times is 5 nV
        for (int i = 0; i < 30; i++) {
            double middle = (low + high) / 2;
            if (available(middle) > load.currentA(middle)) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }

    /** Current the supply can give at an output voltage, A. */
    private static double available(double volts) {
        return Math.min((OPEN_V - volts) / OUTPUT_OHM, LIMIT_A);
    }

    @Override
    public double voltageV(int rail, Node node) {
        return switch (node) {
            case LINE -> lineV * Math.sqrt(2) * Math.sin(2 * Math.PI * lineHz * timeS);
            case OUTPUT -> outputV() + runAwayV;
            case RAW -> lineV / 10;
            case BASE -> outputV() + 1.4;
            case REFERENCE, SENSE_TAP -> 3.6;
        };
    }

    @Override
    public double currentA(int rail) {
        return load.currentA(outputV());
    }

    @Override
    public double heatSinkC(int rail) {
        return 25;
    }

    @Override
    public double lineCurrentA() {
        return 0;
    }
}
