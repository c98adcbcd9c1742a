package railproof.instrument;

/** What an electronic load holds constant. */
public enum LoadMode {
    /** Constant current; the level is in amperes. */
    CURRENT,
    /** Constant voltage; the level is in volts. */
    VOLTAGE,
    /** Constant resistance; the level is in ohms. */
    RESISTANCE
}
