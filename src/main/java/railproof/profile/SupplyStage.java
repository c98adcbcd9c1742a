package railproof.profile;

/** The stages of a series-pass supply, in the order in which power passes them. */
public enum SupplyStage {
    /** Mains, transformer, and the leads to the rectifier. */
    INPUT("input"),
    /** Rectifier diodes. */
    RECTIFIER("rectifier"),
    /** Reservoir capacitor and its joints. */
    RESERVOIR("reservoir"),
    /** Pass transistor, driver, and what feeds their base. */
    PASS("pass stage"),
    /** Reference diode. */
    REFERENCE("reference"),
    /** Error amplifier and output divider. */
    ERROR("error stage"),
    /** Current limit. */
    LIMITER("limiter"),
    /** Output capacitor and the loop's compensation. */
    OUTPUT("output");

    private final String words;

    SupplyStage(String words) {
        this.words = words;
    }

    /** As people say it. */
    public String words() {
        return words;
    }
}
