package railproof.base;

/** The SI units this program measures in. Prefixes (mV, µF) exist at display only. */
public enum Unit {
    VOLT("V"),
    AMPERE("A"),
    OHM("Ω"),
    WATT("W"),
    FARAD("F"),
    HERTZ("Hz"),
    SECOND("s"),
    CELSIUS("°C"),
    DECIBEL("dB"),
    /** A pure number; 0.01 is one percent. */
    RATIO(""),
    /** How many. */
    COUNT("");

    private final String symbol;

    Unit(String symbol) {
        this.symbol = symbol;
    }

    /** The symbol as printed, empty for a ratio. */
    public String symbol() {
        return symbol;
    }
}
