package railproof.app;

import java.util.ArrayList;
import java.util.List;
import railproof.sim.LoadCharacteristic;
import railproof.sim.LoadInput;
import railproof.sim.Node;
import railproof.sim.Plant;

/** A unit with an onlooker: what flowed, how long its first rail was held down, when its line came and went. */
final class WatchedPlant implements Plant {
    private static final double CYCLE_S = 0.02;

    private final Plant unit;
    private final double heldDownBelowV;
    final double[] mostA;
    final List<Strain> strains = new ArrayList<>();
    double lineOnS = Double.NaN;
    double lineOffS = Double.NaN;
    /** What the first rail's reservoir held each time when the line came on, V. */
    final List<Double> chargedV = new ArrayList<>();

    /** Most power that all rails gave together, W. */
    double mostW;

    double hottestC;
    /** When the first rail's output first had a tenth of a volt, s. */
    double outputSinceS = Double.NaN;

    private boolean strained;
    private double strainedS;
    private boolean fed;

    /**
     * A stretch of time in which a load held the first rail's output down.
     *
     * @param fromS its begin, s
     * @param durationS how long it was, s
     * @param energyJ what the pass stage took, J
     */
    record Strain(double fromS, double durationS, double energyJ) {}

    /** Watches for the first rail being below a magnitude while it is loaded. */
    WatchedPlant(Plant unit, double heldDownBelowV) {
        this.unit = unit;
        this.heldDownBelowV = heldDownBelowV;
        this.mostA = new double[unit.railNames().size()];
    }

    @Override
    public List<String> railNames() {
        return unit.railNames();
    }

    @Override
    public double timeS() {
        return unit.timeS();
    }

    @Override
    public void line(double rmsV, double frequencyHz) {
        if (rmsV > 0 && Double.isNaN(lineOnS)) {
            lineOnS = timeS();
        }
        if (rmsV == 0 && !Double.isNaN(lineOnS) && Double.isNaN(lineOffS)) {
            lineOffS = timeS();
        }
        if (rmsV > 0 && !fed) {
            chargedV.add(Math.abs(unit.voltageV(0, Node.RAW)));
        }
        fed = rmsV > 0;
        unit.line(rmsV, frequencyHz);
    }

    @Override
    public void crest(double crestRatio) {
        unit.crest(crestRatio);
    }

    @Override
    public void connect(int rail, LoadInput input) {
        unit.connect(rail, input);
    }

    @Override
    public double inputV(int rail) {
        return unit.inputV(rail);
    }

    @Override
    public void load(int rail, LoadCharacteristic characteristic) {
        unit.load(rail, characteristic);
    }

    @Override
    public void advanceTo(double timeS) {
        double fromS = unit.timeS();
        unit.advanceTo(timeS);
        for (int rail = 0; rail < mostA.length; rail++) {
            mostA[rail] = Math.max(mostA[rail], unit.currentA(rail));
        }
        double powerNowW = 0;
        for (int rail = 0; rail < mostA.length; rail++) {
            powerNowW += Math.abs(unit.voltageV(rail, Node.OUTPUT)) * unit.currentA(rail);
        }
        mostW = Math.max(mostW, powerNowW);
        hottestC = Math.max(hottestC, unit.heatSinkC(0));
        double outputV = Math.abs(unit.voltageV(0, Node.OUTPUT));
        if (outputV > 0.1 && Double.isNaN(outputSinceS)) {
            outputSinceS = unit.timeS();
        }
        boolean now = unit.currentA(0) > 0.05 && outputV < heldDownBelowV;
        if (now) {
            double tookS = unit.timeS() - fromS;
            double powerW = (Math.abs(unit.voltageV(0, Node.RAW)) - outputV) * unit.currentA(0);
            strainedS = unit.timeS();
            Strain before = strained ? strains.remove(strains.size() - 1) : new Strain(fromS, 0, 0);
            strains.add(new Strain(before.fromS(), unit.timeS() - before.fromS(), before.energyJ() + powerW * tookS));
        }
        // in the troughs of its ripple a rail at its limit is down a line cycle after the other: one stretch
        strained = now || (strained && unit.timeS() - strainedS < CYCLE_S);
    }

    @Override
    public double voltageV(int rail, Node node) {
        return unit.voltageV(rail, node);
    }

    @Override
    public double currentA(int rail) {
        return unit.currentA(rail);
    }

    @Override
    public double heatSinkC(int rail) {
        return unit.heatSinkC(rail);
    }

    @Override
    public double lineCurrentA() {
        return unit.lineCurrentA();
    }
}
