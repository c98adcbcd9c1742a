package railproof.diagnosis;

/** Where a probe goes. */
public enum ProbeNode {
    /** The output terminals: what a unit shows with its cover on. */
    OUTPUT("output terminals", false),
    /** The output terminals again, loaded beyond the rating, shorted and switched. */
    LOAD_TESTS("output terminals under overload and load steps", false),
    /** The line at the unit's inlet. */
    LINE("line at the inlet", false),
    /** The reservoir capacitor. */
    RAW("reservoir (raw side)", true),
    /** The base of the pass stage. */
    BASE("base of the pass stage", true),
    /** The reference diode. */
    REFERENCE("reference", true),
    /** The divider's tap. */
    SENSE_TAP("sense tap", true),
    /** The pass transistor's heat sink, with a thermometer; live on many units. */
    HEAT_SINK("heat sink (thermometer)", true);

    private final String words;
    private final boolean inside;

    ProbeNode(String words, boolean inside) {
        this.words = words;
        this.inside = inside;
    }

    /** As people say it. */
    public String words() {
        return words;
    }

    /** Whether the cover must come off to reach it. */
    public boolean inside() {
        return inside;
    }
}
