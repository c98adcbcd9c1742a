package railproof.sim.device;

import java.util.EnumSet;
import java.util.Locale;
import java.util.Random;
import java.util.Set;
import java.util.function.Consumer;

/**
 * The device side of a SCPI a.c. source: voltage, frequency, output switch. Changes take effect at once. The crest ratio
 * (peak over rms, {@code FUNCtion:SHAPe:CRESt}, an extension of our own) flattens the wave's top as loaded mains do; a
 * supply that is fed by rms and frequency alone does not see it.
 *
 * <p>Thread: confined.
 */
public final class SimulatedLineSource {
    private static final double SINE_CREST_RATIO = Math.sqrt(2);
    private static final ScpiParameters.Range CREST_RANGE = new ScpiParameters.Range(1.2, SINE_CREST_RATIO, "");
    private static final String VOLTAGE = "[SOURce]:VOLTage[:LEVel][:IMMediate][:AMPLitude]";
    private static final String FREQUENCY = "[SOURce]:FREQuency[:CW]";

    private final LineRatings ratings;
    private final Random noise;
    private final ScpiStatus status = new ScpiStatus();
    private final ScpiEngine engine;
    private final Set<LineFault> faults = EnumSet.noneOf(LineFault.class);
    private boolean remote;
    private boolean on;
    private double levelV;
    private double frequencyHz = 50;
    private double crestRatio = SINE_CREST_RATIO;
    private double currentA;

    /** A source just switched on, output off. */
    public SimulatedLineSource(LineRatings ratings, long seed) {
        this.ratings = ratings;
        this.noise = new Random(seed);
        String identity =
                String.format(Locale.ROOT, "RAILPROOF,SIMULATED LINE SOURCE %.0fV,SM-0001,1.0", ratings.maxV());
        this.engine = new ScpiEngine(status, identity, this::reset, () -> {});
        install();
    }

    /** Takes bytes from the wire; replies, if any, come before this returns. */
    public void receive(byte[] bytes, Consumer<byte[]> reply) {
        if (!faults.contains(LineFault.DEAF)) {
            engine.receive(bytes, faults.contains(LineFault.SILENT) ? answer -> {} : reply);
        }
    }

    /** What the output feeds the unit with, V rms; zero when off. */
    public double rmsV() {
        return on ? levelV * (1 + ratings.settingGainRatio()) : 0;
    }

    /** Frequency set, Hz, whether the output is on or not. */
    public double frequencyHz() {
        return frequencyHz;
    }

    /** Peak over rms of the wave. */
    public double crestRatio() {
        return crestRatio;
    }

    /** Whether the output is really on, whatever the device answers. */
    public boolean outputOn() {
        return on;
    }

    /** Takes note of the current the unit takes, A rms. */
    public void observe(double rmsA) {
        currentA = rmsA;
    }

    /** Begins or ends a misbehaviour. */
    public void fault(LineFault fault, boolean present) {
        if (present) {
            faults.add(fault);
        } else {
            faults.remove(fault);
        }
    }

    /** Loses and regains its own mains power without a word. */
    public void powerCycle() {
        reset();
        status.powerOn();
        engine.forget();
        remote = false;
    }

    private void reset() {
        on = false;
        levelV = 0;
        frequencyHz = Math.min(ratings.maxHz(), Math.max(ratings.minHz(), 50));
        crestRatio = SINE_CREST_RATIO;
    }

    private void install() {
        engine.on("SYSTem:REMote", parameters -> {
            parameters.expectNone();
            remote = true;
        });
        engine.on("SYSTem:LOCal", parameters -> {
            parameters.expectNone();
            remote = false;
        });
        engine.on("OUTPut[:STATe]", parameters -> output(parameters.onOff()));
        engine.on(VOLTAGE, remotely(parameters -> levelV = parameters.number(voltageRange())));
        engine.on(FREQUENCY, remotely(parameters -> frequencyHz = parameters.number(frequencyRange())));
        engine.on("FUNCtion:SHAPe:CRESt", remotely(parameters -> crestRatio = parameters.number(CREST_RANGE)));

        engine.onQuery("OUTPut[:STATe]", parameters -> {
            parameters.expectNone();
            return on && !faults.contains(LineFault.CLAIMS_OFF) ? "1" : "0";
        });
        engine.onQuery(VOLTAGE, parameters -> level(parameters, voltageRange(), levelV));
        engine.onQuery(FREQUENCY, parameters -> level(parameters, frequencyRange(), frequencyHz));
        engine.onQuery("FUNCtion:SHAPe:CRESt", parameters -> level(parameters, CREST_RANGE, crestRatio));
        engine.onQuery("MEASure[:SCALar]:VOLTage[:AC]", parameters -> {
            parameters.expectNone();
            return nr3(rmsV() * (1 + ratings.meterGainRatio()) + ratings.meterNoiseV() * noise.nextGaussian());
        });
        engine.onQuery("MEASure[:SCALar]:CURRent[:AC]", parameters -> {
            parameters.expectNone();
            return nr3((on ? currentA : 0) * (1 + ratings.meterGainRatio()));
        });
    }

    private void output(boolean wanted) throws ScpiRefusal {
        if (wanted) {
            requireRemote();
            on = true;
        } else if (!faults.contains(LineFault.IGNORES_OFF)) {
            on = false;
        }
    }

    private ScpiEngine.Setter remotely(ScpiEngine.Setter setter) {
        return parameters -> {
            requireRemote();
            setter.set(parameters);
        };
    }

    private void requireRemote() throws ScpiRefusal {
        if (!remote) {
            throw new ScpiRefusal(-201, "Invalid while in local");
        }
    }

    private ScpiParameters.Range voltageRange() {
        return new ScpiParameters.Range(0, ratings.maxV(), "V");
    }

    private ScpiParameters.Range frequencyRange() {
        return new ScpiParameters.Range(ratings.minHz(), ratings.maxHz(), "HZ");
    }

    private static String level(ScpiParameters parameters, ScpiParameters.Range range, double value)
            throws ScpiRefusal {
        return nr3(parameters.none() ? value : parameters.number(range));
    }

    private static String nr3(double value) {
        return String.format(Locale.ROOT, "%.6E", value);
    }
}
