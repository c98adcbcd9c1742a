package railproof.profile;

/** How the rectifier of a rail is built. */
public enum RectifierKind {
    /** Four diodes on one winding: two drops, two pulses per cycle. */
    BRIDGE,
    /** Two diodes on a centre-tapped winding: one drop, two pulses per cycle, halves never quite equal. */
    CENTRE_TAP,
    /** One diode: one drop, one pulse per cycle. */
    HALF_WAVE
}
