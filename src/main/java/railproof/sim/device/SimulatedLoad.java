package railproof.sim.device;

import java.util.EnumSet;
import java.util.Locale;
import java.util.Random;
import java.util.Set;
import java.util.function.Consumer;
import railproof.sim.LoadCharacteristic;

/**
 * The device side of a SCPI electronic load, driven by bytes and by time: constant current, voltage and resistance,
 * slewed and settling levels, a minimum operating voltage, protections that drop the input, status reporting, a
 * watchdog, a meter with errors.
 *
 * <p>The bench that owns it repeats: {@link #advanceTo} a moment, give {@link #characteristic} to the supply, let the
 * supply reach that moment, {@link #observe} what the terminals saw. Bytes go in by {@link #receive} at the moment last
 * advanced to.
 *
 * <p>Its own extension, not of the standard: {@code SYSTem:WATChdog <seconds>}, 0 for never; the input drops when no
 * message was understood for that long. It drops latched, with bit 10 of the questionable register set.
 *
 * <p>Thread: confined.
 */
public final class SimulatedLoad {
    /** Positive numbers in the error queue are this device's own (SCPI-1999 volume 2, 21.8.2, from memory). */
    private static final int OWN_ERRORS = 200;

    /** Across the input, so that an open load does not keep its charge: common practice, no source. */
    private static final double BLEEDER_OHM = 500e3;

    private static final ScpiParameters.Range WATCHDOG_RANGE = new ScpiParameters.Range(0, 3600, "S");

    private final LoadRatings ratings;
    private final LoadAccuracy accuracy;
    private final Random noise;
    private final ScpiStatus status = new ScpiStatus();
    private final ScpiEngine engine;
    private final LoadStage stage;
    private final LoadGuard guard;
    private final BoxcarMeter meter = new BoxcarMeter();
    private final Set<LoadFault> faults = EnumSet.noneOf(LoadFault.class);

    private long nowNs;
    private long observedNs;
    private long heardNs;
    private boolean started;
    private boolean remote;
    private double watchdogS;
    private double terminalV;
    private double sunkA;

    /** A load just switched on, input off, in local control. */
    public SimulatedLoad(LoadRatings ratings, LoadAccuracy accuracy, long seed) {
        this.ratings = ratings;
        this.accuracy = accuracy;
        this.noise = new Random(seed);
        this.stage = new LoadStage(ratings, accuracy);
        this.guard = new LoadGuard(ratings);
        String identity = String.format(
                Locale.ROOT, "RAILPROOF,SIMULATED LOAD %.0fV %.0fA,SL-0001,1.0", ratings.maxV(), ratings.maxA());
        this.engine = new ScpiEngine(status, identity, this::reset, () -> heardNs = nowNs);
        installSettings();
        installQueries();
    }

    /** An ideal bench load. */
    public static SimulatedLoad ideal() {
        return new SimulatedLoad(LoadRatings.BENCH, LoadAccuracy.IDEAL, 1);
    }

    /** Takes bytes from the wire; replies, if any, come before this returns. */
    public void receive(byte[] bytes, Consumer<byte[]> reply) {
        if (!faults.contains(LoadFault.DEAF)) {
            engine.receive(bytes, faults.contains(LoadFault.SILENT) ? answer -> {} : reply);
        }
    }

    /** Time moves on; never back. The first call sets where time begins. */
    public void advanceTo(long toNs) {
        if (!started) {
            started = true;
            nowNs = toNs;
            observedNs = toNs;
            heardNs = toNs;
            return;
        }
        if (toNs <= nowNs) {
            return;
        }
        double durationS = (toNs - nowNs) / 1e9;
        stage.advance(durationS);
        guard.warm(durationS, stage.on() ? terminalV * sunkA : 0);
        nowNs = toNs;
        boolean silent = watchdogS > 0 && (nowNs - heardNs) / 1e9 >= watchdogS;
        if (silent && stage.on() && !faults.contains(LoadFault.WATCHDOG_DEAD)) {
            drop(guard.trip(LoadGuard.HOST_SILENT));
        }
    }

    /**
     * What the terminals see at the moment last advanced to.
     *
     * @param voltageV magnitude of the voltage at the terminals, V
     * @param currentA current sunk, A
     */
    public void observe(double voltageV, double currentA) {
        double sinceS = (nowNs - observedNs) / 1e9;
        observedNs = nowNs;
        terminalV = voltageV;
        sunkA = currentA;
        meter.see(sinceS, voltageV, currentA);
        if (!faults.contains(LoadFault.PROTECTION_DEAD)) {
            drop(guard.look(voltageV, currentA, sinceS));
        }
        boolean starved = stage.on() && stage.mode() == LoadStage.Mode.CURRENT && currentA < 0.98 * stage.levelA();
        status.condition(guard.tripped() | (starved ? UNREGULATED : 0));
    }

    /** Bit of the questionable register, free for the designer: the level cannot be held. */
    private static final int UNREGULATED = 1 << 9;

    /** Current against voltage at the moment last advanced to; does not change afterwards. */
    public LoadCharacteristic characteristic() {
        return stage.characteristic();
    }

    /** Whether the input really conducts, whatever the device answers. */
    public boolean inputOn() {
        return stage.on();
    }

    /** Capacitance across the terminals, F, which hangs across the supply's rail while connected; see {@link LoadRatings}. */
    public double inputF() {
        return ratings.inputF();
    }

    /**
     * What the input capacitor still holds with nothing connected: its bleeder empties it, and an input that is on.
     *
     * @param heldV voltage at the start, V
     * @param durationS how long, s
     */
    public double dischargedV(double heldV, double durationS) {
        return stage.on() ? 0 : heldV * Math.exp(-durationS / (BLEEDER_OHM * ratings.inputF()));
    }

    /** Temperature of its heat sink, °C. */
    public double heatSinkC() {
        return guard.sinkC();
    }

    /** Begins or ends a misbehaviour. */
    public void fault(LoadFault fault, boolean present) {
        if (present) {
            faults.add(fault);
        } else {
            faults.remove(fault);
        }
    }

    /** Loses and regains mains power without a word: input off, everything forgotten, only the power-on bit tells. */
    public void powerCycle() {
        reset();
        status.powerOn();
        engine.forget();
        remote = false;
        heardNs = nowNs;
    }

    private void reset() {
        stage.reset();
        guard.reset();
        watchdogS = 0;
        status.condition(0);
    }

    /** The input goes off by itself and the queue says why. */
    private void drop(int bits) {
        if (bits == 0) {
            return;
        }
        stage.on(false, terminalV);
        status.condition(guard.tripped());
        report(bits, LoadGuard.VOLTAGE, 1, "Over-voltage, input dropped");
        report(bits, LoadGuard.CURRENT, 2, "Over-current, input dropped");
        report(bits, LoadGuard.POWER, 3, "Over-power, input dropped");
        report(bits, LoadGuard.TEMPERATURE, 4, "Over-temperature, input dropped");
        report(bits, LoadGuard.HOST_SILENT, 5, "Host silent, input dropped");
    }

    private void report(int bits, int bit, int number, String text) {
        if ((bits & bit) != 0) {
            status.report(OWN_ERRORS + number, text);
        }
    }

    private void installSettings() {
        engine.on("SYSTem:REMote", none(() -> remote = true));
        engine.on("SYSTem:LOCal", none(() -> remote = false));
        engine.on("INPut[:STATe]", parameters -> input(parameters.onOff()));
        engine.on("INPut:PROTection:CLEar", remotely(none(() -> {
            guard.clear();
            status.condition(guard.tripped());
        })));
        engine.on(
                "[SOURce]:FUNCtion[:MODE]",
                remotely(parameters -> stage.mode(LoadStage.Mode.of(parameters.only()), terminalV, sunkA)));
        engine.on(CURRENT, remotely(parameters -> stage.levelA(parameters.number(currentRange()))));
        engine.on(VOLTAGE, remotely(parameters -> stage.levelV(parameters.number(voltageRange()))));
        engine.on(RESISTANCE, remotely(parameters -> stage.levelOhm(parameters.number(resistanceRange()))));
        engine.on(
                "[SOURce]:CURRent:PROTection[:LEVel]",
                remotely(parameters -> guard.currentA(parameters.number(guard.currentRange()))));
        engine.on(
                "[SOURce]:VOLTage:PROTection[:LEVel]",
                remotely(parameters -> guard.voltageV(parameters.number(guard.voltageRange()))));
        engine.on(
                "[SOURce]:POWer:PROTection[:LEVel]",
                remotely(parameters -> guard.powerW(parameters.number(guard.powerRange()))));
        engine.on("SYSTem:WATChdog", remotely(parameters -> watchdogS = parameters.number(WATCHDOG_RANGE)));
    }

    private static final String CURRENT = "[SOURce]:CURRent[:LEVel][:IMMediate][:AMPLitude]";
    private static final String VOLTAGE = "[SOURce]:VOLTage[:LEVel][:IMMediate][:AMPLitude]";
    private static final String RESISTANCE = "[SOURce]:RESistance[:LEVel][:IMMediate][:AMPLitude]";

    private void installQueries() {
        engine.onQuery("INPut[:STATe]", parameters -> {
            parameters.expectNone();
            boolean claimed =
                    !faults.contains(LoadFault.CLAIMS_OFF) && (stage.on() || faults.contains(LoadFault.CLAIMS_ON));
            return claimed ? "1" : "0";
        });
        engine.onQuery("[SOURce]:FUNCtion[:MODE]", parameters -> {
            parameters.expectNone();
            return stage.mode().word();
        });
        engine.onQuery(CURRENT, parameters -> level(parameters, currentRange(), stage.levelA()));
        engine.onQuery(VOLTAGE, parameters -> level(parameters, voltageRange(), stage.levelV()));
        engine.onQuery(RESISTANCE, parameters -> level(parameters, resistanceRange(), stage.levelOhm()));
        engine.onQuery(
                "[SOURce]:CURRent:PROTection[:LEVel]",
                parameters -> level(parameters, guard.currentRange(), guard.currentA()));
        engine.onQuery(
                "[SOURce]:VOLTage:PROTection[:LEVel]",
                parameters -> level(parameters, guard.voltageRange(), guard.voltageV()));
        engine.onQuery(
                "[SOURce]:POWer:PROTection[:LEVel]",
                parameters -> level(parameters, guard.powerRange(), guard.powerW()));
        engine.onQuery("SYSTem:WATChdog", parameters -> level(parameters, WATCHDOG_RANGE, watchdogS));
        engine.onQuery("MEASure[:SCALar]:VOLTage[:DC]", parameters -> {
            parameters.expectNone();
            return measured(
                    meter.meanV() * (1 + accuracy.meterGainVRatio()) + accuracy.meterOffsetV(), accuracy.meterNoiseV());
        });
        engine.onQuery("MEASure[:SCALar]:CURRent[:DC]", parameters -> {
            parameters.expectNone();
            return measured(
                    meter.meanA() * (1 + accuracy.meterGainARatio()) + accuracy.meterOffsetA(), accuracy.meterNoiseA());
        });
    }

    private void input(boolean wanted) throws ScpiRefusal {
        if (!wanted) {
            // OFF is obeyed in local control too, if it is not that kind of load
            if (faults.contains(LoadFault.OFF_NEEDS_REMOTE)) {
                requireRemote();
            }
            if (!faults.contains(LoadFault.IGNORES_OFF)) {
                stage.on(false, terminalV);
            }
            return;
        }
        requireRemote();
        if (guard.tripped() != 0) {
            throw new ScpiRefusal(-221, "Settings conflict;protection has tripped");
        }
        if (!faults.contains(LoadFault.IGNORES_ON)) {
            stage.on(true, terminalV);
        }
    }

    private void requireRemote() throws ScpiRefusal {
        if (!remote) {
            throw new ScpiRefusal(-201, "Invalid while in local");
        }
    }

    private ScpiEngine.Setter remotely(ScpiEngine.Setter setter) {
        return parameters -> {
            requireRemote();
            setter.set(parameters);
        };
    }

    private static ScpiEngine.Setter none(Runnable action) {
        return parameters -> {
            parameters.expectNone();
            action.run();
        };
    }

    private ScpiParameters.Range currentRange() {
        return new ScpiParameters.Range(0, ratings.maxA(), "A");
    }

    private ScpiParameters.Range voltageRange() {
        return new ScpiParameters.Range(0, ratings.maxV(), "V");
    }

    private ScpiParameters.Range resistanceRange() {
        return new ScpiParameters.Range(ratings.onOhm(), ratings.maxOhm(), "OHM");
    }

    /** The level itself, or with MIN or MAX what it could be. */
    private static String level(ScpiParameters parameters, ScpiParameters.Range range, double value)
            throws ScpiRefusal {
        return nr3(parameters.none() ? value : parameters.number(range));
    }

    private String measured(double value, double noiseRms) {
        return faults.contains(LoadFault.MEASURES_NOTHING) ? "9.91E+37" : nr3(value + noiseRms * noise.nextGaussian());
    }

    private static String nr3(double value) {
        return String.format(Locale.ROOT, "%.6E", value);
    }
}
