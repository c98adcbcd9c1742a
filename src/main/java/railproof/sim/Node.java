package railproof.sim;

/** The points of a supply that a probe can be put on. Voltages are against the rail's own common. */
public enum Node {
    /** Mains at the unit's inlet, instantaneous volts. */
    LINE,
    /** Reservoir capacitor, the unregulated side. */
    RAW,
    /** Base of the pass stage (for a Darlington, of its driver). */
    BASE,
    /** Rail output terminal. */
    OUTPUT,
    /** Voltage reference. */
    REFERENCE,
    /** Tap of the output divider, the sense input of the error amplifier. */
    SENSE_TAP
}
