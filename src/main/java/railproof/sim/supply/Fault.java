package railproof.sim.supply;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * What can be wrong with a supply. Each fault changes one value of the circuit (or makes it change in time) and
 * leaves the rest healthy. Its severity runs from 0, healthy, to 1; what it means stands beside each fault.
 *
 * <p>Resistances that only mean something against the rail's own size are scaled by its rated load resistance over
 * 6 Ω, so that a fault is as bad on a 175 V rail as on a 5 V rail.
 */
public enum Fault {
    /** Voltage at the inlet is low; 1 is 30 % low. Concerns the whole unit. */
    LOW_LINE("low-line", 0.5, Scope.UNIT),
    /** The transformer is strapped to a tap for lower line, so every winding gives too much; 1 is 30 % too much. */
    WRONG_TRANSFORMER_TAP("wrong-transformer-tap", 0.5, Scope.UNIT),
    /** Resistance in series with one rectifier diode: 10 to the power of nine times the severity, Ω. */
    OPEN_RECTIFIER_DIODE("open-rectifier-diode", 1, Scope.RAIL),
    /** The reservoir has lost this share of its capacitance (at most 99 %). */
    RESERVOIR_LOW_CAPACITANCE("reservoir-low-capacitance", 0.5, Scope.RAIL),
    /** Series resistance of the reservoir: 1 is 2 Ω on a 6 Ω rail. */
    RESERVOIR_HIGH_ESR("reservoir-high-esr", 0.5, Scope.RAIL),
    /** Leakage of the reservoir: 1 draws about half the rated current. */
    LEAKY_RESERVOIR("leaky-reservoir", 0.5, Scope.RAIL),
    /** Bad joint in the secondary lead: 1 is 2 Ω on a 6 Ω rail. */
    SECONDARY_JOINT_RESISTANCE("secondary-joint-resistance", 0.5, Scope.RAIL),
    /**
     * Joint in the secondary lead that opens when the heat sink is warmer than 75 °C less 40 K times the severity. At
     * 0.8, 43 °C, that takes eight minutes or so of full load from cold: a short run does not find it, a burn-in does.
     */
    CRACKED_JOINT("cracked-joint", 0.8, Scope.RAIL),
    /** Pass transistor conducts from collector to emitter; 1 is 20 mΩ, each tenth less is four times as much. */
    PASS_TRANSISTOR_SHORT("pass-transistor-short", 1, Scope.RAIL),
    /** Resistance in the collector of the pass transistor: 10 to the power of nine times the severity, Ω. */
    PASS_TRANSISTOR_OPEN("pass-transistor-open", 1, Scope.RAIL),
    /** Pass transistor opens by itself at random; 1 is every second or so for 0.4 s, 0.5 every 5 s for 0.2 s. */
    INTERMITTENT_PASS_TRANSISTOR("intermittent-pass-transistor", 0.5, Scope.RAIL),
    /** Resistance in the collector of the driver: 10 to the power of nine times the severity, Ω. */
    DRIVER_OPEN("driver-open", 1, Scope.RAIL),
    /** Share of its current gain that the driver has lost (at most 99 %). */
    DRIVER_LOW_GAIN("driver-low-gain", 10.0 / 11, Scope.RAIL),
    /** The base feed resistor has risen: 1 is to 19 times its value, 0.5 to ten times. */
    BASE_FEED_HIGH("base-feed-high", 0.5, Scope.RAIL),
    /** Reference conducts to common; 1 is 1 Ω, each tenth less is four times as much. */
    REFERENCE_SHORT("reference-short", 1, Scope.RAIL),
    /** Resistance in series with the reference: 10 to the power of nine times the severity, Ω. */
    REFERENCE_OPEN("reference-open", 1, Scope.RAIL),
    /** Noise of the reference below 100 Hz or so; 1 is 1 % rms of its voltage. */
    NOISY_REFERENCE("noisy-reference", 0.5, Scope.RAIL),
    /** The reference sinks while the unit is on, with a time constant of 10 minutes; 1 is by 4 % in the end. */
    DRIFTING_REFERENCE("drifting-reference", 0.5, Scope.RAIL),
    /** Resistance in the collector of the error transistor: 10 to the power of nine times the severity, Ω. */
    ERROR_TRANSISTOR_OPEN("error-transistor-open", 1, Scope.RAIL),
    /** Error transistor conducts from collector to emitter; 1 is 1 Ω, each tenth less is four times as much. */
    ERROR_TRANSISTOR_SHORT("error-transistor-short", 1, Scope.RAIL),
    /** Upper divider resistor is 10 to the power of nine times the severity, Ω, if that is more than it should be. */
    DIVIDER_UPPER_OPEN("divider-upper-open", 1, Scope.RAIL),
    /** Upper divider resistor has risen; 1 is by 20 %. */
    DIVIDER_UPPER_HIGH("divider-upper-high", 0.5, Scope.RAIL),
    /** Lower divider resistor is 10 to the power of nine times the severity, Ω, if that is more than it should be. */
    DIVIDER_LOWER_OPEN("divider-lower-open", 1, Scope.RAIL),
    /** The current-sense resistor has risen: 1 is to three times its value, 0.5 to twice. */
    SENSE_RESISTOR_HIGH("sense-resistor-high", 0.5, Scope.RAIL),
    /** Limit transistor conducts from collector to emitter; 1 is 1 Ω, each tenth less is four times as much. */
    LIMIT_TRANSISTOR_SHORT("limit-transistor-short", 1, Scope.RAIL),
    /** Resistance in the collector of the limit transistor: 10 to the power of nine times the severity, Ω. */
    LIMIT_TRANSISTOR_OPEN("limit-transistor-open", 1, Scope.RAIL),
    /** The output capacitor is worn out: 1 leaves 5 % of its capacitance and 101 times its series resistance. */
    SWOLLEN_OUTPUT_CAPACITOR("swollen-output-capacitor", 0.8, Scope.RAIL),
    /**
     * The loop rings at about 37 kHz as soon as it carries current; 1 is 4 % of the output, peak to peak, at rated
     * load. Laid over the solved output and base voltages, not solved: the circuit model is stable.
     */
    HIGH_FREQUENCY_OSCILLATION("high-frequency-oscillation", 0.5, Scope.RAIL);

    /** Whether a fault sits on one rail or on what all rails share. */
    enum Scope {
        UNIT,
        RAIL
    }

    private final String label;
    private final double defaultSeverityRatio;
    private final Scope scope;

    Fault(String label, double defaultSeverityRatio, Scope scope) {
        this.label = label;
        this.defaultSeverityRatio = defaultSeverityRatio;
        this.scope = scope;
    }

    /** The name people use, in kebab case. */
    public String label() {
        return label;
    }

    /** Severity when none is given, 0 to 1. */
    public double defaultSeverityRatio() {
        return defaultSeverityRatio;
    }

    /** Whether the fault concerns the whole unit, not one rail. */
    public boolean wholeUnit() {
        return scope == Scope.UNIT;
    }

    /** Names of all faults. */
    public static List<String> labels() {
        return Arrays.stream(values()).map(Fault::label).toList();
    }

    /** The fault of that name, if there is one. */
    public static Optional<Fault> labelled(String label) {
        return Arrays.stream(values())
                .filter(fault -> fault.label.equals(label.toLowerCase(Locale.ROOT)))
                .findFirst();
    }
}
