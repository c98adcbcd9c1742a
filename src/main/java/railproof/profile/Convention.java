package railproof.profile;

/** What a regulation figure is a percentage of. The certificate prints the one used. */
public enum Convention {
    /** 100 (V_no-load − V_full-load) / V_full-load: the textbooks' form. */
    OF_FULL_LOAD,
    /** 100 (V_no-load − V_full-load) / V_no-load: some makers' form. */
    OF_NO_LOAD,
    /** 100 (V_no-load − V_full-load) / V_nominal: the form of the low-voltage supply standard. */
    OF_NOMINAL,
    /** The plain difference in volts. */
    IN_VOLTS
}
