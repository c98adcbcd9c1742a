package railproof.sim.device;

/**
 * What kind of load is simulated.
 *
 * @param maxA rated current, A
 * @param maxV rated voltage, V
 * @param maxW rated power, W
 * @param minimumV voltage needed to sink the rated current, V; below, the load is a resistor of minimumV / maxA
 * @param maxOhm highest resistance setting, Ω
 * @param riseS time from zero to full scale at the slew rate, s
 * @param lagS time constant with which a level settles, s
 * @param protectionDelayS how long an over-current or over-power must last before the input drops, s
 * @param inputF capacitance across the terminals, F. The load's characteristic has no memory, so the supply must be
 *     given this capacitance across its rail by whoever connects the two; {@link railproof.sim.LoadInput}
 */
public record LoadRatings(
        double maxA,
        double maxV,
        double maxW,
        double minimumV,
        double maxOhm,
        double riseS,
        double lagS,
        double protectionDelayS,
        double inputF) {
    /** A bench load of 30 A, 250 V, 300 W. */
    public static final LoadRatings BENCH = new LoadRatings(30, 250, 300, 0.9, 50_000, 200e-6, 100e-6, 1e-3, 0.5e-6);

    public LoadRatings {
        require("rated current", maxA);
        require("rated voltage", maxV);
        require("rated power", maxW);
        require("minimum voltage", minimumV);
        require("highest resistance", maxOhm);
        require("rise time", riseS);
        require("settling time constant", lagS);
        if (!(protectionDelayS >= 0) || !(inputF >= 0)) {
            throw new IllegalArgumentException("protection delay and input capacitance must not be negative");
        }
    }

    private static void require(String what, double value) {
        if (!(value > 0) || !Double.isFinite(value)) {
            throw new IllegalArgumentException(what + " must be greater than zero, got " + value);
        }
    }

    /** Resistance of the fully conducting load, Ω; also the lowest resistance setting. */
    public double onOhm() {
        return minimumV / maxA;
    }
}
