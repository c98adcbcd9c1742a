package railproof.app;

import java.util.Arrays;
import java.util.List;
import railproof.sim.LoadCharacteristic;
import railproof.sim.Node;
import railproof.sim.Plant;

/**
 * A unit simple enough to be calculated by hand and a thousand times as fast as the real model: an ideal source with an
 * output resistance and a hard current limit, fed by a sine. For tests of everything around the unit.
 */
final class PlainUnit implements Plant {
    private static final double OUTPUT_OHM = 0.005;

    private final List<Rail> rails;
    private final LoadCharacteristic[] loads;
    private double timeS;
    private double lineV;
    private double lineHz = 60;
    private volatile double runAwayV;

    /**
     * One of its rails.
     *
     * @param openV output without load, V, signed
     * @param limitA hard limit, A
     */
    record Rail(double openV, double limitA) {}

    PlainUnit() {
        this(List.of(new Rail(5.02, 2.55)));
    }

    PlainUnit(List<Rail> rails) {
        this.rails = List.copyOf(rails);
        loads = new LoadCharacteristic[rails.size()];
        Arrays.fill(loads, LoadCharacteristic.OPEN);
    }

    @Override
    public List<String> railNames() {
        return rails.stream().map(rail -> rail.openV() + " V").toList();
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
        loads[rail] = characteristic;
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
    private double outputV(int index) {
        if (lineV < 60) {
            return 0;
        }
        Rail rail = rails.get(index);
        double openV = Math.abs(rail.openV());
        if (loads[index] == LoadCharacteristic.OPEN) {
            return openV;
        }
        double low = 0;
        double high = openV;
        // 12 V halved 31 times is 6 nV
        for (int i = 0; i < 31; i++) {
            double middle = (low + high) / 2;
            double available = Math.min((openV - middle) / OUTPUT_OHM, rail.limitA());
            if (available > loads[index].currentA(middle)) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }

    @Override
    public double voltageV(int rail, Node node) {
        return switch (node) {
            case LINE -> lineV * Math.sqrt(2) * Math.sin(2 * Math.PI * lineHz * timeS);
            case OUTPUT -> Math.signum(rails.get(rail).openV()) * (outputV(rail) + runAwayV);
            case RAW -> lineV / 6;
            case BASE -> outputV(rail) + 1.4;
            case REFERENCE, SENSE_TAP -> 3.6;
        };
    }

    @Override
    public double currentA(int rail) {
        return loads[rail].currentA(outputV(rail));
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
