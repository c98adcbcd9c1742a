package railproof.sim;

/**
 * What an electronic load is to a supply besides the current it sinks: a capacitor across its input, at the end of its
 * leads. The current itself is drawn as a function of the voltage at the unit's terminals, where the load's sense leads
 * are.
 *
 * @param inputF capacitance across the load's input, F; zero for none
 * @param leadOhm resistance of the pair of leads, there and back, with the contactor, Ω; zero or more
 * @param chargedV magnitude of the voltage that the capacitor holds when the contactor closes, V; zero or more
 */
public record LoadInput(double inputF, double leadOhm, double chargedV) {
    /** Nothing connected. */
    public static final LoadInput NONE = new LoadInput(0, 0, 0);

    /** Checks the ranges. */
    public LoadInput {
        require("input capacitance", inputF);
        require("lead resistance", leadOhm);
        require("voltage on the input capacitor", chargedV);
    }

    private static void require(String what, double value) {
        if (!(value >= 0) || Double.isInfinite(value)) {
            throw new IllegalArgumentException(what + " is " + value + "; allowed: a finite number of 0 or more");
        }
    }
}
