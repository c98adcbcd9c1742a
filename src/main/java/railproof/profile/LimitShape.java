package railproof.profile;

/** How a rail limits its current. */
public enum LimitShape {
    /** Current stays about constant down to a short. */
    CONSTANT_CURRENT,
    /** Current falls with the output voltage: less into a short than at the knee. */
    FOLDBACK,
    /** Shuts down and stays down until the line is taken off. */
    LATCHING,
    /** No limit up to the largest current the profile allows to be tried. */
    NONE
}
