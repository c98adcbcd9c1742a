package railproof.profile;

/**
 * Nominal part values a profile may state for a rail (table {@code [rails.parts]}), from the unit's circuit diagram. They
 * are what a diagnosis compares readings with. The unit is the end of the key.
 */
public enum PartValue {
    /** Open-circuit winding voltage, r.m.s., of the whole winding or of each half, at nominal line. */
    SECONDARY("secondary_V", 1, 1000, 4),
    /** All resistance between the mains and the rectifier as seen at the secondary. */
    WINDING("winding_Ohm", 1e-3, 1e4, 25),
    /** Reservoir capacitance. */
    RESERVOIR("reservoir_uF", 0.1, 1e6, 20),
    /** Series resistance of the reservoir when it was new. */
    RESERVOIR_ESR("reservoir_esr_Ohm", 1e-4, 100, 60),
    /** Resistor from the raw side that feeds the pass stage's base. */
    BASE_FEED("base_feed_Ohm", 1, 1e7, 5),
    /** Resistor across base and emitter of the pass transistor. */
    BASE_BLEED("base_bleed_Ohm", 1, 1e6, 5),
    /** Current gain of the pass transistor at full load. */
    PASS_GAIN("pass_gain_Ratio", 5, 2000, 40),
    /** Current gain of the driver at full load. Left out where the pass transistor is driven without one. */
    DRIVER_GAIN("driver_gain_Ratio", 5, 2000, 40),
    /** Current-sense resistor. */
    SENSE("sense_Ohm", 1e-4, 1e4, 5),
    /** Reference voltage at its own current. */
    REFERENCE("reference_V", 0.5, 500, 5),
    /** Slope of the reference: volts per ampere. */
    REFERENCE_SLOPE("reference_slope_Ohm", 0.01, 1e4, 40),
    /** Resistor that feeds the reference from the output. */
    REFERENCE_FEED("reference_feed_Ohm", 1, 1e7, 5),
    /** Divider, output to sense tap. */
    DIVIDER_UPPER("divider_upper_Ohm", 1, 1e7, 2),
    /** Divider, sense tap to common. */
    DIVIDER_LOWER("divider_lower_Ohm", 1, 1e7, 2),
    /** Current gain of the error transistor. */
    ERROR_GAIN("error_gain_Ratio", 5, 2000, 40),
    /** Output capacitor. */
    OUTPUT_CAPACITOR("output_uF", 1e-3, 1e6, 20),
    /** Series resistance of the output capacitor when it was new. */
    OUTPUT_ESR("output_esr_Ohm", 1e-4, 100, 60),
    /** Foldback divider, pass emitter to the limit transistor's base. Left out unless the limit folds back. */
    FOLDBACK_UPPER("foldback_upper_Ohm", 1, 1e7, 2),
    /** Foldback divider, the limit transistor's base to common. Left out unless the limit folds back. */
    FOLDBACK_LOWER("foldback_lower_Ohm", 1, 1e7, 2),
    /** Heat sink of the pass transistor to the air. May be left out: a designer's usual one is assumed then. */
    HEAT_SINK("heat_sink_K_per_W", 0.01, 100, 25),
    /** Resistor that discharges the reservoir. Left out where there is none. */
    RESERVOIR_BLEED("reservoir_bleed_Ohm", 1, 1e8, 10);

    private final String key;
    private final double lowDimensionless;
    private final double highDimensionless;
    private final double tolerancePct;

    PartValue(String key, double lowDimensionless, double highDimensionless, double tolerancePct) {
        this.key = key;
        this.lowDimensionless = lowDimensionless;
        this.highDimensionless = highDimensionless;
        this.tolerancePct = tolerancePct;
    }

    /** The key in the profile, unit included. */
    public String key() {
        return key;
    }

    /** The key of its tolerance. */
    public String toleranceKey() {
        return key.substring(0, key.lastIndexOf('_')) + "_tolerance_pct";
    }

    /** What one of the key's unit is in SI units: 1e-6 for microfarads. */
    public double unitDimensionless() {
        return key.endsWith("_uF") ? 1e-6 : 1;
    }

    /** Smallest value allowed, in the key's unit. */
    public double low() {
        return lowDimensionless;
    }

    /** Largest value allowed, in the key's unit. */
    public double high() {
        return highDimensionless;
    }

    /** Usual tolerance where the profile states none, half width, percent (common practice, no source). */
    public double usualTolerancePct() {
        return tolerancePct;
    }

    /** Whether every supply has it and its profile must state it. */
    boolean always() {
        return this != DRIVER_GAIN && !mayBeLeftOut() && !ofFoldback();
    }

    /** Whether a profile need not state it. */
    boolean mayBeLeftOut() {
        return this == HEAT_SINK || this == RESERVOIR_BLEED;
    }

    /** Whether only a limit that folds back has it. */
    public boolean ofFoldback() {
        return this == FOLDBACK_UPPER || this == FOLDBACK_LOWER;
    }
}
