package railproof.instrument;

/**
 * The commands a line source must understand, each with its key in the rig file's dialect table and the strict
 * standard's wording. {@code %s} stands for the number. Only the optional ones may be empty in a dialect.
 */
public enum LineCommand {
    /** Enter remote control. */
    REMOTE("remote", ":SYST:REM", true),
    /** Back to the front panel. */
    LOCAL("local", ":SYST:LOC", true),
    /** Root mean square voltage, V. */
    VOLTAGE("voltage", ":VOLT %s", false),
    /** Frequency, Hz. */
    FREQUENCY("frequency", ":FREQ %s", false),
    /** Output on. */
    OUTPUT_ON("output_on", ":OUTP ON", false),
    /** Output off. */
    OUTPUT_OFF("output_off", ":OUTP OFF", false),
    /** Ask whether the output is on; the reply is 0/1 or OFF/ON. */
    OUTPUT_QUERY("output_query", ":OUTP?", false),
    /** Measure the output voltage, V rms. */
    MEASURE_VOLTAGE("measure_voltage", ":MEAS:VOLT?", true),
    /** Measure the current it gives, A rms. */
    MEASURE_CURRENT("measure_current", ":MEAS:CURR?", true);

    private final String key;
    private final String standardText;
    private final boolean optional;

    LineCommand(String key, String standardText, boolean optional) {
        this.key = key;
        this.standardText = standardText;
        this.optional = optional;
    }

    /** Key in the dialect table. */
    public String key() {
        return key;
    }

    /** The strict standard's wording. */
    public String standardText() {
        return standardText;
    }

    /** Whether a device may lack it. */
    public boolean optional() {
        return optional;
    }

    /** Whether the text takes a number. */
    public boolean takesNumber() {
        return standardText.contains("%s");
    }
}
