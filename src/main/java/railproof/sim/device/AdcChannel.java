package railproof.sim.device;

/**
 * One analogue input of the simulated board: what it promises and by how much it is off.
 *
 * @param name at most 12 bytes
 * @param lowV nominal input of the lowest code, V
 * @param highV nominal input one step above the highest code, V; greater than {@code lowV}
 * @param gainErrorRatio gain error; 0.001 reads 0.1 % too much
 * @param offsetV added to the input, V
 * @param noiseRmsV white noise on each sample, V; zero or more
 * @param antiAliasHz corner of the one-pole filter before the converter, Hz; 0 for no filter
 */
public record AdcChannel(
        String name,
        double lowV,
        double highV,
        double gainErrorRatio,
        double offsetV,
        double noiseRmsV,
        double antiAliasHz) {
    /** Bits of the converter. */
    static final int BITS = 16;
    /** Most inputs a board may have: a mask of channels has 32 bits. */
    static final int MAX_COUNT = 32;

    private static final int MIN_CODE = -(1 << (BITS - 1));
    private static final int MAX_CODE = (1 << (BITS - 1)) - 1;

    public AdcChannel {
        if (!(highV > lowV) || !Double.isFinite(highV - lowV)) {
            throw new IllegalArgumentException("range must rise, got " + lowV + " V to " + highV + " V");
        }
        if (!(noiseRmsV >= 0) || !(antiAliasHz >= 0)) {
            throw new IllegalArgumentException(
                    "noise and filter corner must not be negative, got " + noiseRmsV + " V, " + antiAliasHz + " Hz");
        }
    }

    /** An input without errors. */
    public static AdcChannel ideal(String name, double lowV, double highV) {
        return new AdcChannel(name, lowV, highV, 0, 0, 0, 0);
    }

    /** One step of the converter, V. */
    public double stepV() {
        return (highV - lowV) / (1 << BITS);
    }

    /** The code for an input voltage, clipped at the ends of the range. */
    int code(double inputV, double noiseV) {
        double seenV = inputV * (1 + gainErrorRatio) + offsetV + noiseV;
        long code = Math.round((seenV - lowV) / stepV()) + MIN_CODE;
        return (int) Math.max(MIN_CODE, Math.min(MAX_CODE, code));
    }
}
