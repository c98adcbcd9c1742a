package railproof.instrument;

/**
 * How closely what an instrument reads back must agree with what was set: one step of its display or converter plus
 * 0.1 % of the value for rounding. Common practice, no source.
 *
 * @param stepA step of currents, A
 * @param stepV step of voltages, V
 * @param stepW step of powers, W
 * @param stepOhm step of resistances, Ω
 * @param stepHz step of frequencies, Hz
 * @param faultBits bits of the questionable status register that mean a fault; the standard's (SCPI-1999 volume 1,
 *     section 9, from memory) are 0 voltage, 1 current, 3 power, 4 temperature, 8 calibration
 */
public record ReadBackRule(double stepA, double stepV, double stepW, double stepOhm, double stepHz, int faultBits) {
    private static final double ROUNDING_RATIO = 1e-3;

    /** Steps of an ordinary bench load with four-digit displays. */
    public static final ReadBackRule STANDARD = new ReadBackRule(0.002, 0.02, 0.2, 0.02, 0.1, 0x11B);

    public ReadBackRule {
        if (!(stepA >= 0 && stepV >= 0 && stepW >= 0 && stepOhm >= 0 && stepHz >= 0)) {
            throw new IllegalArgumentException("steps of read-back must not be negative");
        }
    }

    /** Whether {@code readBack} may be {@code set} as the device rounds it; both in the unit of {@code step}. */
    static boolean agrees(double set, double readBack, double step) {
        return Math.abs(readBack - set) <= step + ROUNDING_RATIO * Math.abs(set);
    }
}
