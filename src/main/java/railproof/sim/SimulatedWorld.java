package railproof.sim;

import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import railproof.sim.device.AnalogSource;
import railproof.sim.device.BoardOutputs;
import railproof.sim.device.SimulatedLineSource;
import railproof.sim.device.SimulatedLoad;

/**
 * The unit under test with everything physical around it: mains, relays, contactor, loads. Moves them on together in
 * small steps, so that load and supply answer each other.
 *
 * <p>Thread: confined to whoever drives the bench.
 */
final class SimulatedWorld implements AnalogSource, BoardOutputs {
    /** While a load's setpoint moves, so that a slewed step is no staircase for the regulator, s. */
    private static final double MOVING_STEP_S = 2e-6;
    /** While a load is on, load and supply are stepped against each other this often, s. */
    private static final double BUSY_STEP_S = 100e-6;
    /** With all loads off nothing on the output changes fast, s. */
    private static final double QUIET_STEP_S = 2e-3;
    /** While the plant repeats itself its loads stand still too; they are brought along this often, and when spoken to. */
    private static final double REPEATING_STEP_S = 0.1;

    private final Plant plant;
    private final BenchPlan plan;
    /** By input number; null where nothing is connected. */
    private final BenchPlan.@Nullable Tap[] taps;

    private final Map<String, SimulatedLoad> loads = new LinkedHashMap<>();
    private final Map<String, BenchPlan.LoadPlan> wiring = new HashMap<>();
    private final Map<String, Attachment> attachments = new LinkedHashMap<>();

    @Nullable
    private final SimulatedLineSource source;

    private double steppedS;
    private int relays;
    private boolean loadEnabled;
    private double handLineV;
    private final double handLineHz;
    private double calibratorV;
    private boolean railsWereTied;

    SimulatedWorld(
            Plant plant,
            BenchPlan plan,
            Map<String, SimulatedLoad> loads,
            @Nullable SimulatedLineSource source,
            double handLineHz) {
        this.plant = plant;
        this.plan = plan;
        this.taps = new BenchPlan.Tap
                [plan.taps().keySet().stream()
                        .mapToInt(input -> input + 1)
                        .max()
                        .orElse(0)];
        plan.taps().forEach((input, tap) -> taps[input] = tap);
        this.loads.putAll(loads);
        wiring.putAll(plan.loads());
        loads.keySet().forEach(name -> attachments.put(name, new Attachment()));
        this.source = source;
        this.handLineHz = handLineHz;
    }

    @Override
    public void advanceTo(double timeS) {
        applyLine();
        if (plant.repeating() && timeS - steppedS < REPEATING_STEP_S) {
            plant.advanceTo(Math.max(timeS, plant.timeS()));
            return;
        }
        steppedS = timeS;
        catchUp();
        while (plant.timeS() < timeS) {
            double nextS = Math.min(timeS, plant.timeS() + stepS());
            double fromS = plant.timeS();
            loads.forEach((name, load) -> {
                // a level on its way is held at what it is halfway through, so that it does not run ahead on average
                load.advanceTo(Math.round((fromS + nextS) / 2 * 1e9));
                connect(name, load, nextS - fromS);
                load.advanceTo(Math.round(nextS * 1e9));
            });
            plant.advanceTo(nextS);
            loads.forEach(this::observe);
        }
        if (source != null) {
            source.observe(plant.lineCurrentA());
        }
    }

    /** Brings the loads to where the unit is. */
    private void catchUp() {
        long nowNs = Math.round(plant.timeS() * 1e9);
        loads.forEach((name, load) -> {
            load.advanceTo(nowNs);
            observe(name, load);
        });
    }

    /** A device is about to be spoken to: it is brought to the present, and what changes by that is followed at once. */
    void spokenTo() {
        if (plant.repeating()) {
            catchUp();
            steppedS = Double.NEGATIVE_INFINITY;
        }
    }

    /** Moves a load's leads to another rail, past any relay. */
    void moveLoad(String name, int rail) {
        detach(attachment(name));
        wiring.put(name, wired(name).on(List.of(new BenchPlan.Way(rail, 0))));
    }

    private double stepS() {
        double stepS = plant.repeating() ? REPEATING_STEP_S : QUIET_STEP_S;
        for (SimulatedLoad load : loads.values()) {
            if (load.moving()) {
                return MOVING_STEP_S;
            }
            stepS = load.inputOn() && !plant.repeating() ? BUSY_STEP_S : stepS;
        }
        return stepS;
    }

    /** The rail a load hangs on, and what its input capacitor holds while it hangs on none. */
    private static final class Attachment {
        private static final int NOWHERE = -1;
        private int rail = NOWHERE;
        private double heldV;
    }

    private Attachment attachment(String name) {
        Attachment attachment = attachments.get(name);
        if (attachment == null) {
            throw new IllegalArgumentException("no load " + name + " on this bench");
        }
        return attachment;
    }

    private void connect(String name, SimulatedLoad load, double stepS) {
        BenchPlan.LoadPlan wired = wired(name);
        Attachment attachment = attachment(name);
        int rail = closedWay(wired);
        if (rail != attachment.rail) {
            detach(attachment);
            if (rail >= 0 && load.inputF() > 0) {
                plant.connect(rail, new LoadInput(load.inputF(), wired.leadOhm(), attachment.heldV));
            }
            attachment.rail = rail;
        }
        if (rail >= 0) {
            plant.load(rail, load.characteristic());
        } else {
            attachment.heldV = load.inputF() > 0 ? load.dischargedV(attachment.heldV, stepS) : 0;
        }
    }

    /** Takes a load off whatever rail it is on. */
    private void detach(Attachment attachment) {
        if (attachment.rail >= 0) {
            attachment.heldV = plant.inputV(attachment.rail);
            plant.connect(attachment.rail, LoadInput.NONE);
            plant.load(attachment.rail, LoadCharacteristic.OPEN);
        }
        attachment.rail = Attachment.NOWHERE;
    }

    private void observe(String name, SimulatedLoad load) {
        Attachment attachment = attachment(name);
        if (attachment.rail >= 0) {
            load.observe(Math.abs(plant.voltageV(attachment.rail, Node.OUTPUT)), plant.currentA(attachment.rail));
        } else {
            load.observe(attachment.heldV, 0);
        }
    }

    private BenchPlan.LoadPlan wired(String name) {
        BenchPlan.LoadPlan wired = wiring.get(name);
        if (wired == null) {
            throw new IllegalArgumentException("load " + name + " is not in the bench plan");
        }
        return wired;
    }

    /** The rail to which a load's way is closed; NOWHERE if it is open. */
    private int closedWay(BenchPlan.LoadPlan wired) {
        return wired.ways().stream()
                .filter(way -> loadEnabled && closed(way))
                .mapToInt(BenchPlan.Way::rail)
                .findFirst()
                .orElse(Attachment.NOWHERE);
    }

    private boolean closed(BenchPlan.Way way) {
        return (relays & way.relayMask()) == way.relayMask();
    }

    private void applyLine() {
        boolean connected = (relays & plan.lineRelayMask()) == plan.lineRelayMask();
        double rmsV = source != null ? source.rmsV() : handLineV;
        double hz = source != null ? source.frequencyHz() : handLineHz;
        plant.crest(source != null ? source.crestRatio() : plan.flaws().mainsCrestRatio());
        plant.line(connected ? rmsV : 0, hz);
    }

    /** Turns the hand-turned variac. */
    void turnLineTo(double rmsV) {
        handLineV = rmsV;
    }

    /** Sets the calibrator. */
    void calibrator(double volts) {
        calibratorV = volts;
    }

    @Override
    public boolean repeating() {
        return plant.repeating();
    }

    @Override
    public double straightS() {
        return plant.straightS();
    }

    @Override
    public double voltageV(int channel) {
        BenchPlan.Tap tap = channel < taps.length ? taps[channel] : null;
        if (tap instanceof BenchPlan.CalibratorTap) {
            return calibratorV;
        }
        if (tap instanceof BenchPlan.NodeTap node) {
            return plant.voltageV(node.rail(), node.node());
        }
        if (tap instanceof BenchPlan.HeatSinkTap heatSink) {
            return plant.heatSinkC(heatSink.rail());
        }
        return tap instanceof BenchPlan.LineTap ? plant.voltageV(0, Node.LINE) : 0;
    }

    @Override
    public void relays(int energised) {
        spokenTo();
        relays = energised;
        railsWereTied |= wiring.values().stream()
                .anyMatch(load -> load.ways().stream().filter(this::closed).count() > 1);
        applyLine();
    }

    @Override
    public void loadEnable(boolean on) {
        spokenTo();
        loadEnabled = on;
    }

    /** Largest load current flowing on any rail now, A. */
    double loadCurrentA() {
        double mostA = 0;
        for (int rail = 0; rail < plant.railNames().size(); rail++) {
            mostA = Math.max(mostA, plant.currentA(rail));
        }
        return mostA;
    }

    /**
     * Whether two rails ever were tied together through the relays of one load. The relays lie between the rails and the
     * contactor, so that needs no contactor.
     */
    boolean railsWereTied() {
        return railsWereTied;
    }

    /** Whether mains reaches the unit. */
    boolean lineLive() {
        boolean connected = (relays & plan.lineRelayMask()) == plan.lineRelayMask();
        return connected && (source != null ? source.rmsV() : handLineV) > 0;
    }
}
