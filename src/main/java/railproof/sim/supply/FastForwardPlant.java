package railproof.sim.supply;

import java.util.List;
import railproof.sim.LoadCharacteristic;
import railproof.sim.LoadInput;
import railproof.sim.Node;
import railproof.sim.Plant;
import railproof.sim.supply.Faults.RailProcess;

/**
 * A unit that is not integrated while nothing happens to it. Once the states at the beginnings of successive line
 * cycles agree, one cycle is recorded and played again and again; meanwhile heat sinks go on exactly, warmed by the
 * recorded cycle's mean power, and so do the faults that change slowly. The unit is integrated again, until it repeats
 * itself once more, after every change of line or load, whenever a heat sink has moved by {@value #SINK_STEP_K} K or a
 * reference by {@value #REFERENCE_STEP_RATIO} of its voltage, and when a fault acts abruptly.
 *
 * <p>What two cycles differ by is the unit's own settling only if both are integrated in the same steps. So the cycles
 * compared begin at a zero of the line, and the integration begins afresh at each. Steps that ran on from cycle to cycle
 * would fall on other places of the charging pulse each time and move the reservoir by more than its settling does.
 *
 * <p>A fault that acts faster than a cycle never lets two cycles agree for long; such a unit is integrated throughout.
 *
 * <p>Thread: confined to one thread.
 */
final class FastForwardPlant implements Plant {
    static final double SINK_STEP_K = 0.2;
    static final double REFERENCE_STEP_RATIO = 2e-5;

    /**
     * States at two beginnings of a cycle that differ by less than these shares of nominal are the same: a tenth of the
     * integration's own tolerances.
     */
    private static final double OUTPUT_SAME_RATIO = 5e-6;

    private static final double RAW_SAME_RATIO = 2e-5;
    /** So many cycles in a row must agree with the first of them. */
    private static final int AGREEING_CYCLES = 3;

    /** A beginning nearer than this part of a cycle is not waited for; the next one is. */
    private static final double LEAST_CYCLE_RATIO = 1e-6;

    private static final double SAME_CURRENT_RATIO = 1e-7;
    private static final double SECONDS_BETWEEN_CHECKS = 0.02;

    private final UnitPlant inner;
    private final int rails;
    private final double[] nominalV;
    private final double[] ratedA;
    private final LoadCharacteristic[] loads;
    private final double[] firstOutV;
    private final double[] firstRawV;
    private final double[] sinkC;
    private final double[] meanW;
    private final double[] referenceV;
    private double crestRatio;
    private double timeS;
    private double boundaryS = Double.NaN;
    private int agreeing;
    private boolean recording;
    private boolean replaying;
    private boolean ringing;
    private CycleRecord record;
    private double recordedS;
    private double sinkS;
    private double checkS;

    FastForwardPlant(UnitPlant inner) {
        this.inner = inner;
        rails = inner.railNames().size();
        nominalV = new double[rails];
        ratedA = new double[rails];
        loads = new LoadCharacteristic[rails];
        for (int rail = 0; rail < rails; rail++) {
            nominalV[rail] = inner.network(rail).circuit.design.nominalV();
            ratedA[rail] = inner.network(rail).circuit.design.ratedA();
            loads[rail] = LoadCharacteristic.OPEN;
        }
        firstOutV = new double[rails];
        firstRawV = new double[rails];
        sinkC = new double[rails];
        meanW = new double[rails];
        referenceV = new double[rails];
        record = new CycleRecord(rails, 1);
    }

    @Override
    public List<String> railNames() {
        return inner.railNames();
    }

    @Override
    public double timeS() {
        return timeS;
    }

    @Override
    public void line(double rmsV, double frequencyHz) {
        if (rmsV != inner.mains().rmsV() || frequencyHz != inner.mains().frequencyHz()) {
            wake();
            inner.line(rmsV, frequencyHz);
        }
    }

    @Override
    public void crest(double newCrestRatio) {
        if (newCrestRatio != crestRatio) {
            crestRatio = newCrestRatio;
            wake();
            inner.crest(crestRatio);
        }
    }

    @Override
    public void connect(int rail, LoadInput input) {
        wake();
        inner.connect(rail, input);
    }

    @Override
    public double inputV(int rail) {
        return replaying ? Math.abs(record.valueV(rail, Node.OUTPUT, phaseRatio())) : inner.inputV(rail);
    }

    @Override
    public void load(int rail, LoadCharacteristic characteristic) {
        if (same(loads[rail], characteristic, nominalV[rail], ratedA[rail])) {
            return;
        }
        wake();
        loads[rail] = characteristic;
        inner.load(rail, characteristic);
    }

    /** A load that stands still gives a new object every time; what counts is what it draws about the nominal output. */
    private static boolean same(LoadCharacteristic a, LoadCharacteristic b, double nominalV, double ratedA) {
        if (a == b) {
            return true;
        }
        for (double partRatio : new double[] {0.1, 0.5, 0.97, 1, 1.03}) {
            double volts = partRatio * nominalV;
            if (Math.abs(a.currentA(volts) - b.currentA(volts)) > SAME_CURRENT_RATIO * ratedA) {
                return false;
            }
        }
        return true;
    }

    @Override
    public boolean repeating() {
        return replaying;
    }

    @Override
    public double straightS() {
        return replaying && !ringing ? record.cycleS() / CycleRecord.SAMPLES : 0;
    }

    @Override
    public void advanceTo(double targetS) {
        while (timeS < targetS) {
            if (replaying) {
                replayTo(targetS);
            } else {
                integrateTo(targetS);
            }
        }
    }

    private void integrateTo(double targetS) {
        if (inner.mains().rmsV() == 0) {
            boundaryS = Double.NaN;
            inner.advanceTo(targetS);
            timeS = targetS;
            return;
        }
        double cycleS = 1 / inner.mains().frequencyHz();
        if (Double.isNaN(boundaryS)) {
            double cycles = inner.mains().cycles(timeS);
            begin(timeS + (Math.floor(cycles + LEAST_CYCLE_RATIO) + 1 - cycles) * cycleS);
        }
        double nextS = recording ? recordedS + record.next() * cycleS / CycleRecord.SAMPLES : boundaryS;
        double toS = Math.min(targetS, nextS);
        inner.advanceTo(toS);
        timeS = toS;
        if (toS < nextS) {
            return;
        }
        if (!recording) {
            boundary(cycleS);
        } else if (record.take(inner)) {
            replay(cycleS);
        }
    }

    private void begin(double atS) {
        boundaryS = atS;
        agreeing = 0;
        recording = false;
    }

    private void boundary(double cycleS) {
        boolean same = true;
        for (int rail = 0; rail < rails; rail++) {
            double outV = inner.stateV(rail, RailNetwork.OUT);
            double rawV = inner.stateV(rail, RailNetwork.RAW);
            same &= Math.abs(outV - firstOutV[rail]) <= OUTPUT_SAME_RATIO * nominalV[rail]
                    && Math.abs(rawV - firstRawV[rail]) <= RAW_SAME_RATIO * nominalV[rail];
        }
        if (!same) {
            for (int rail = 0; rail < rails; rail++) {
                firstOutV[rail] = inner.stateV(rail, RailNetwork.OUT);
                firstRawV[rail] = inner.stateV(rail, RailNetwork.RAW);
            }
        }
        agreeing = same ? agreeing + 1 : 0;
        boundaryS += cycleS;
        if (!calm()) {
            return;
        }
        inner.beginAfresh();
        if (agreeing >= AGREEING_CYCLES) {
            recording = true;
            recordedS = timeS;
            record = new CycleRecord(rails, cycleS);
            record.take(inner);
        }
    }

    /** Whether no fault acts faster than a line cycle. */
    private boolean calm() {
        return inner.processes().stream().noneMatch(each -> each.process().restless());
    }

    private void replay(double cycleS) {
        recording = false;
        replaying = true;
        recordedS += cycleS;
        sinkS = recordedS;
        checkS = timeS;
        ringing = false;
        for (int rail = 0; rail < rails; rail++) {
            sinkC[rail] = inner.heatSinkC(rail);
            meanW[rail] = record.meanW(rail);
            referenceV[rail] = inner.network(rail).circuit.referenceOffsetV;
            ringing |= inner.network(rail).circuit.oscillationV != 0;
        }
    }

    private void replayTo(double targetS) {
        timeS = Math.min(targetS, Math.max(checkS, timeS));
        if (timeS < checkS) {
            return;
        }
        checkS = timeS + SECONDS_BETWEEN_CHECKS;
        warmTo(timeS);
        boolean disturbed = false;
        for (RailProcess each : inner.processes()) {
            while (each.process().nextS() <= timeS) {
                disturbed |= each.process().reach(sinkC[each.rail()], record.meanRawV(each.rail()));
            }
        }
        for (int rail = 0; rail < rails; rail++) {
            disturbed |= Math.abs(sinkC[rail] - inner.appliedC(rail)) > SINK_STEP_K;
            disturbed |= Math.abs(inner.network(rail).circuit.referenceOffsetV - referenceV[rail])
                    > REFERENCE_STEP_RATIO * nominalV[rail];
        }
        if (disturbed) {
            wake();
        }
    }

    private void warmTo(double toS) {
        for (int rail = 0; rail < rails; rail++) {
            sinkC[rail] = inner.sinkAfterC(rail, sinkC[rail], meanW[rail], toS - sinkS);
        }
        sinkS = toS;
    }

    /** Goes on integrating from now: the recorded cycle's end is put as many whole cycles later as have been played. */
    private void wake() {
        boundaryS = Double.NaN;
        recording = false;
        if (!replaying) {
            return;
        }
        replaying = false;
        double cycleS = record.cycleS();
        double cycles = Math.floor((timeS - recordedS) / cycleS + 1e-9);
        warmTo(timeS);
        inner.skip(cycles, cycleS, sinkC);
        inner.advanceTo(Math.max(timeS, inner.timeS()));
        // a rounding error later, if it was on the beginning of a cycle
        timeS = inner.timeS();
    }

    /** Where in its cycle the line is, 0 to 1. */
    private double phaseRatio() {
        double cycles = (timeS - recordedS) / record.cycleS();
        return cycles - Math.floor(cycles);
    }

    @Override
    public double voltageV(int rail, Node node) {
        if (!replaying) {
            return inner.voltageV(rail, node);
        }
        if (node == Node.LINE) {
            return inner.mains().valueV(timeS) * inner.network(rail).circuit.inletRatio;
        }
        double magnitudeV = record.valueV(rail, node, phaseRatio())
                + inner.network(rail).circuit.ringV(node, timeS, currentA(rail));
        return inner.network(rail).circuit.design.negative() ? -magnitudeV : magnitudeV;
    }

    @Override
    public double currentA(int rail) {
        return replaying
                ? loads[rail].currentA(Math.max(0, record.valueV(rail, Node.OUTPUT, phaseRatio())))
                : inner.currentA(rail);
    }

    @Override
    public double heatSinkC(int rail) {
        return replaying ? inner.sinkAfterC(rail, sinkC[rail], meanW[rail], timeS - sinkS) : inner.heatSinkC(rail);
    }

    @Override
    public double lineCurrentA() {
        return inner.lineCurrentA();
    }
}
