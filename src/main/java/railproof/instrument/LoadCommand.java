package railproof.instrument;

/**
 * The commands a load must understand, each with its key in the rig file's dialect table and the strict standard's
 * wording. {@code %s} stands for the number. An empty text in a dialect means the device has no such command; only the
 * optional ones may be empty.
 */
public enum LoadCommand {
    /** Enter remote control. */
    REMOTE("remote", ":SYST:REM", true),
    /** Back to the front panel. */
    LOCAL("local", ":SYST:LOC", true),
    /** Input on. */
    INPUT_ON("input_on", ":INP ON", false),
    /** Input off. */
    INPUT_OFF("input_off", ":INP OFF", false),
    /** Ask whether the input is on; the reply is 0/1 or OFF/ON. */
    INPUT_QUERY("input_query", ":INP?", false),
    /** Constant current. */
    MODE_CURRENT("mode_current", ":FUNC CURR", false),
    /** Constant voltage. */
    MODE_VOLTAGE("mode_voltage", ":FUNC VOLT", false),
    /** Constant resistance. */
    MODE_RESISTANCE("mode_resistance", ":FUNC RES", false),
    /** Ask the mode. */
    MODE_QUERY("mode_query", ":FUNC?", true),
    /** Current level, A. */
    LEVEL_CURRENT("level_current", ":CURR %s", false),
    /** Voltage level, V. */
    LEVEL_VOLTAGE("level_voltage", ":VOLT %s", false),
    /** Resistance level, Ω. */
    LEVEL_RESISTANCE("level_resistance", ":RES %s", false),
    /** Over-current protection, A. */
    PROTECT_CURRENT("protect_current", ":CURR:PROT %s", true),
    /** Ask the over-current protection. */
    PROTECT_CURRENT_QUERY("protect_current_query", ":CURR:PROT?", true),
    /** Over-voltage protection, V. */
    PROTECT_VOLTAGE("protect_voltage", ":VOLT:PROT %s", true),
    /** Ask the over-voltage protection. */
    PROTECT_VOLTAGE_QUERY("protect_voltage_query", ":VOLT:PROT?", true),
    /** Over-power protection, W. */
    PROTECT_POWER("protect_power", ":POW:PROT %s", true),
    /** Ask the over-power protection. */
    PROTECT_POWER_QUERY("protect_power_query", ":POW:PROT?", true),
    /** Clear a tripped protection. */
    PROTECT_CLEAR("protect_clear", ":INP:PROT:CLE", true),
    /** Measure terminal voltage, V. */
    MEASURE_VOLTAGE("measure_voltage", ":MEAS:VOLT?", false),
    /** Measure current, A. */
    MEASURE_CURRENT("measure_current", ":MEAS:CURR?", false),
    /** Questionable status: what the protections did. */
    QUESTIONABLE_QUERY("questionable_query", ":STAT:QUES?", true),
    /** Host-silence watchdog on, seconds. Not in the standard. */
    WATCHDOG("watchdog", "", true);

    private final String key;
    private final String standardText;
    private final boolean optional;

    LoadCommand(String key, String standardText, boolean optional) {
        this.key = key;
        this.standardText = standardText;
        this.optional = optional;
    }

    /** Key in the dialect table. */
    public String key() {
        return key;
    }

    /** The strict standard's wording; empty where the standard has none. */
    public String standardText() {
        return standardText;
    }

    /** Whether a device may lack it. */
    public boolean optional() {
        return optional;
    }

    /** Whether the text takes a number. */
    public boolean takesNumber() {
        return standardText.contains("%s") || this == WATCHDOG;
    }
}
