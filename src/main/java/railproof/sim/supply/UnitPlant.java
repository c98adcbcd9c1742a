package railproof.sim.supply;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import railproof.sim.LoadCharacteristic;
import railproof.sim.LoadInput;
import railproof.sim.Node;
import railproof.sim.Plant;
import railproof.sim.supply.Faults.RailProcess;

/**
 * One unit in operation: integrates the equations of all its rails together with its transformer.
 *
 * <p>The integrator runs at most one step ahead of the time asked for and interpolates; a change of line or load
 * takes that step back, lands on the instant of the change and starts afresh from there.
 */
final class UnitPlant implements Plant {
    private static final double SHORTEST_STEP_S = 1e-12;
    /** Instants closer than this are one; a step that short would have no derivative in double precision. */
    private static final double SAME_INSTANT_S = 1e-9;

    private static final int ITERATIONS = 40;
    /** A load change below this share of the rated current needs no fresh start: step control copes with it. */
    private static final double JUMP_RATIO = 1e-3;

    private static final double TEMPERATURE_STEP_K = 0.02;
    private final UnitDesign design;
    private final Surroundings surroundings;
    private final Mains mains;
    private final List<String> names;
    private final RailNetwork[] networks;
    private final RailHistory[] histories;
    private final double[][] derivativeHistories;
    private final double[] appliedC;
    private final List<RailProcess> processes = new ArrayList<>();
    private final StepTimes times = new StepTimes();
    private final StepControl control = new StepControl();
    private final LineMeter meter = new LineMeter();
    private final RectifierWatch watch;
    private double timeS;
    private double coreV;
    private double primaryA;
    private double crestRatio;
    /** Steps tried and linear systems solved so far, for the speed figures. */
    private long attempts;

    private long iterations;

    UnitPlant(UnitDesign design, Surroundings surroundings, List<PlacedFault> faults) {
        this.design = design;
        this.surroundings = surroundings;
        mains = new Mains(surroundings, design.nominalLineHz());
        int count = design.rails().size();
        names = design.rails().stream().map(RailDesign::name).toList();
        networks = new RailNetwork[count];
        histories = new RailHistory[count];
        derivativeHistories = new double[count][];
        appliedC = new double[count];
        List<RailCircuit> circuits =
                design.rails().stream().map(RailCircuit::new).toList();
        Faults.placeAll(faults, names, circuits, new Random(surroundings.seed()), processes);
        for (int i = 0; i < count; i++) {
            networks[i] = new RailNetwork(circuits.get(i), design.nominalLineV());
            histories[i] = new RailHistory(networks[i].stateSize, surroundings.ambientC());
            derivativeHistories[i] = new double[networks[i].stateSize];
            appliedC[i] = Double.NEGATIVE_INFINITY;
        }
        watch = new RectifierWatch(design, mains, networks, histories, times);
    }

    @Override
    public List<String> railNames() {
        return names;
    }

    @Override
    public double timeS() {
        return timeS;
    }

    @Override
    public void line(double rmsV, double frequencyHz) {
        Require.within("line rmsV", rmsV, 0, 1000);
        Require.within("line frequencyHz", frequencyHz, 40, 70);
        if (rmsV == mains.rmsV() && frequencyHz == mains.frequencyHz()) {
            return;
        }
        landOnNow();
        mains.change(timeS, rmsV, frequencyHz);
        startAfresh();
    }

    @Override
    public void crest(double newCrestRatio) {
        Require.within("crestRatio", newCrestRatio, Mains.FLATTEST_CREST_RATIO, Mains.SINE_CREST_RATIO);
        if (newCrestRatio == crestRatio) {
            return;
        }
        crestRatio = newCrestRatio;
        landOnNow();
        mains.crest(crestRatio);
        startAfresh();
    }

    @Override
    public void connect(int rail, LoadInput input) {
        landOnNow();
        RailNetwork network = networks[rail];
        network.input(input);
        histories[rail].at(0)[network.inputSlot] = input.chargedV();
        startAfresh();
        control.inrush(timeS, network.inrushS());
    }

    @Override
    public double inputV(int rail) {
        RailNetwork network = networks[rail];
        return Math.max(0, stateV(rail, network.hasInput() ? network.inputSlot : RailNetwork.OUT));
    }

    @Override
    public void load(int rail, LoadCharacteristic characteristic) {
        RailNetwork network = networks[rail];
        if (network.load == characteristic) {
            return;
        }
        landOnNow();
        double outV = Math.max(0, stateV(rail, RailNetwork.OUT));
        double jumpA = Math.abs(characteristic.currentA(outV) - network.load.currentA(outV));
        network.load = characteristic;
        if (jumpA > JUMP_RATIO * design.rails().get(rail).ratedA()) {
            startAfresh();
        }
    }

    /** Makes the newest step end now, taking back the one that ran ahead. */
    private void landOnNow() {
        if (times.newestS() <= timeS) {
            return;
        }
        times.takeBack();
        for (RailHistory history : histories) {
            history.takeBack();
        }
        meter.takeBack();
        while (timeS - times.newestS() > SAME_INSTANT_S) {
            step(timeS);
        }
        times.callNewest(timeS);
    }

    /** Goes on from now as after a change, so that the steps to come depend on the state now and on nothing before it. */
    void beginAfresh() {
        landOnNow();
        startAfresh();
    }

    private void startAfresh() {
        times.restart();
        control.startAfresh(times.newestS());
    }

    @Override
    public void advanceTo(double targetS) {
        if (!(targetS >= timeS) || Double.isInfinite(targetS)) {
            throw new IllegalArgumentException(
                    String.format(Locale.ROOT, "time cannot go from %s s to %s s", timeS, targetS));
        }
        while (times.newestS() < targetS) {
            step(Double.POSITIVE_INFINITY);
        }
        timeS = targetS;
    }

    private void step(double targetS) {
        warm();
        double fromS = times.newestS();
        double notBeyondS = Math.min(targetS, runProcesses(fromS));
        double stepS = control.lengthS(fromS, mains, watch.charging());
        double turnOnS = watch.turnOnS(Math.min(fromS + 2 * stepS, notBeyondS));
        notBeyondS = Math.min(notBeyondS, turnOnS);
        while (true) {
            double toS = StepControl.landing(fromS, stepS, notBeyondS);
            double takenS = toS - fromS;
            attempts++;
            double errorRatio = attempt(toS, toS == turnOnS);
            if (StepControl.stands(takenS, errorRatio)) {
                accept(toS);
                control.accepted(takenS, errorRatio);
                if (toS == turnOnS) {
                    control.turnedOn(mains);
                    times.bend();
                }
                return;
            }
            stepS = StepControl.shorterS(takenS, errorRatio);
            if (stepS < SHORTEST_STEP_S) {
                throw new IllegalStateException(String.format(
                        Locale.ROOT, "%s: no solution at %.9f s, line %.1f V", design.name(), fromS, mains.rmsV()));
            }
        }
    }

    /**
     * Solves for the candidate state at {@code toS}; gives the error in tolerances, infinite if there is none.
     *
     * @param turnOn whether a rectifier is expected to turn on there
     */
    private double attempt(double toS, boolean turnOn) {
        double lineV = mains.valueV(toS);
        times.derivativeAt(toS);
        times.polynomialAt(toS);
        for (RailProcess each : processes) {
            each.process().shape(toS);
        }
        for (int i = 0; i < networks.length; i++) {
            times.history(histories[i], derivativeHistories[i]);
            networks[i].prepare(times, derivativeHistories[i], histories[i].at(0), mains.rmsV());
            double[] candidate = histories[i].candidate();
            times.polynomial(histories[i], candidate);
            networks[i].tame(candidate, histories[i].at(0));
            watch.start(i, lineV, turnOn);
        }
        if (!newton(lineV)) {
            return Double.POSITIVE_INFINITY;
        }
        double worst = 0;
        double outputRatio = control.outputRatio(toS);
        for (int i = 0; i < networks.length; i++) {
            networks[i].complete(histories[i].candidate());
            worst = Math.max(worst, StepError.inTolerances(networks[i], histories[i], times, outputRatio));
        }
        double errorRatio = times.usable() < 2 ? 0 : times.errorRatio(worst);
        double turnOnRatio = turnOn ? 0 : StepControl.turnOnErrorRatio(times.stepS(), mains);
        return errorRatio < turnOnRatio && watch.turnsOn() ? turnOnRatio : errorRatio;
    }

    private boolean newton(double lineV) {
        boolean coreKnown = design.primaryOhm() == 0;
        double knownV = coreKnown ? lineV : 0;
        for (int iteration = 0; iteration < ITERATIONS; iteration++) {
            iterations++;
            double askedA = 0;
            double askedPerOhm = 0;
            for (int i = 0; i < networks.length; i++) {
                if (!networks[i].solve(histories[i].candidate(), coreKnown, knownV)) {
                    return false;
                }
                askedA += networks[i].reflectedA(knownV);
                askedPerOhm += coreKnown ? 0 : networks[i].reflectedPerOhm();
            }
            coreV = (lineV - design.primaryOhm() * askedA) / (1 + design.primaryOhm() * askedPerOhm);
            primaryA = askedA + askedPerOhm * coreV;
            double missed = 0;
            for (int i = 0; i < networks.length; i++) {
                missed = Math.max(missed, networks[i].update(histories[i].candidate(), coreV));
            }
            if (missed <= 1) {
                return true;
            }
        }
        return false;
    }

    /** Lets the faults that come and go act up to {@code nowS}; gives the instant at which one acts next, s. */
    private double runProcesses(double nowS) {
        double nextS = Double.POSITIVE_INFINITY;
        for (RailProcess each : processes) {
            FaultProcess process = each.process();
            RailHistory history = histories[each.rail()];
            while (process.nextS() <= nowS + SAME_INSTANT_S) {
                if (process.reach(history.sinkC, history.at(0)[RailNetwork.RAW])) {
                    startAfresh();
                }
            }
            nextS = Math.min(nextS, process.nextS());
        }
        return nextS;
    }

    private void accept(double toS) {
        double stepS = toS - times.newestS();
        for (int i = 0; i < networks.length; i++) {
            histories[i].accept();
            histories[i].sinkC = sinkAfterC(i, histories[i].sinkC, networks[i].passW(histories[i].at(0)), stepS);
        }
        times.accept(toS);
        double magnetisingA = design.magnetisingA() * mains.rmsV() / design.nominalLineV();
        meter.take(toS, primaryA, mains.cycles(toS), magnetisingA);
    }

    /** Temperature of a rail's heat sink after some time at a power, °C. */
    double sinkAfterC(int rail, double sinkC, double powerW, double durationS) {
        ThermalDesign thermal = design.rails().get(rail).thermal();
        double finalC = surroundings.ambientC() + thermal.sinkCPerW() * powerW;
        double constants = durationS / (thermal.sinkCPerW() * thermal.sinkJPerK());
        // within a step next to nothing of a time constant passes: the first terms of 1 - exp(-x), to 1e-13
        double gone = constants < 1e-4 ? constants * (1 - 0.5 * constants) : -Math.expm1(-constants);
        return sinkC + (finalC - sinkC) * gone;
    }

    /** Jumps over whole line cycles in which the electrical state repeats itself; heat sinks come out as told. */
    void skip(double cycles, double cycleS, double[] sinkC) {
        double byS = cycles * cycleS;
        timeS += byS;
        times.skip(byS);
        meter.skip(byS, cycles);
        control.skip(byS);
        for (int i = 0; i < histories.length; i++) {
            histories[i].sink(sinkC[i]);
        }
    }

    private void warm() {
        for (int i = 0; i < networks.length; i++) {
            double sinkC = histories[i].sinkC;
            if (Math.abs(sinkC - appliedC[i]) > TEMPERATURE_STEP_K) {
                double ambientC = surroundings.ambientC();
                double boardC = ambientC + design.rails().get(i).thermal().boardRatio() * (sinkC - ambientC);
                networks[i].temperature(sinkC, boardC, ambientC);
                appliedC[i] = sinkC;
            }
        }
    }

    double stateV(int rail, int index) {
        if (timeS == times.newestS()) {
            return histories[rail].at(0)[index];
        }
        times.polynomialAt(timeS);
        return times.polynomial(histories[rail], index);
    }

    @Override
    public double voltageV(int rail, Node node) {
        if (node == Node.LINE) {
            return mains.valueV(timeS) * networks[rail].circuit.inletRatio;
        }
        double magnitudeV =
                switch (node) {
                    case LINE, RAW -> stateV(rail, RailNetwork.RAW);
                    case BASE -> stateV(rail, RailNetwork.BASE);
                    case OUTPUT -> stateV(rail, RailNetwork.OUT);
                    case REFERENCE -> stateV(rail, RailNetwork.REFERENCE);
                    case SENSE_TAP -> stateV(rail, RailNetwork.TAP);
                };
        double withRingV = magnitudeV + networks[rail].circuit.ringV(node, timeS, currentA(rail));
        return design.rails().get(rail).negative() ? -withRingV : withRingV;
    }

    double passW(int rail) {
        return networks[rail].passW(histories[rail].at(0));
    }

    RailNetwork network(int rail) {
        return networks[rail];
    }

    Mains mains() {
        return mains;
    }

    List<RailProcess> processes() {
        return processes;
    }

    double appliedC(int rail) {
        return appliedC[rail];
    }

    @Override
    public double currentA(int rail) {
        return networks[rail].load.currentA(Math.max(0, stateV(rail, RailNetwork.OUT)));
    }

    @Override
    public double heatSinkC(int rail) {
        return histories[rail].sinkC;
    }

    @Override
    public double lineCurrentA() {
        return meter.rmsA();
    }

    /** Steps tried so far, taken or not. */
    long attempts() {
        return attempts;
    }

    /** Linear systems solved so far. */
    long iterations() {
        return iterations;
    }
}
