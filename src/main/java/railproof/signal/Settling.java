package railproof.signal;

import java.util.Arrays;

/**
 * Whether a reading has come to rest, from successive readings.
 *
 * <p>Rule (common practice, no source): the last three readings must lie within the band of each other, and the last
 * {@value #DRIFT_READINGS} must not all have moved the same way by more than the band together: slow warming moves
 * every step by less than any band.
 *
 * <p>Thread: pure; any.
 */
public enum Settling {
    /** Too few readings to say. */
    TOO_FEW,
    /** Still moving, or noisier than the band. */
    MOVING,
    /** Close together from reading to reading, but going steadily one way. */
    DRIFTING,
    /** At rest. */
    SETTLED;

    /** Readings that must lie together. */
    public static final int QUIET_READINGS = 3;
    /** Readings over which a steady march counts as drift. */
    public static final int DRIFT_READINGS = 6;

    /**
     * Decides.
     *
     * @param readings in the order taken, equally spaced in time
     * @param bandDimensionless largest spread that counts as rest, in the readings' unit; above zero
     */
    public static Settling of(double[] readings, double bandDimensionless) {
        Samples.requirePositive("band", bandDimensionless);
        if (readings.length < QUIET_READINGS) {
            return TOO_FEW;
        }
        Samples.require(readings, QUIET_READINGS);
        int n = readings.length;
        if (spread(Arrays.copyOfRange(readings, n - QUIET_READINGS, n)) > bandDimensionless) {
            return MOVING;
        }
        if (n >= DRIFT_READINGS) {
            double[] late = Arrays.copyOfRange(readings, n - DRIFT_READINGS, n);
            if (oneWay(late) && spread(late) > bandDimensionless) {
                return DRIFTING;
            }
        }
        return SETTLED;
    }

    private static double spread(double[] values) {
        return Arrays.stream(values).max().orElseThrow()
                - Arrays.stream(values).min().orElseThrow();
    }

    private static boolean oneWay(double[] values) {
        double direction = Math.signum(values[values.length - 1] - values[0]);
        for (int i = 1; i < values.length; i++) {
            if (Math.signum(values[i] - values[i - 1]) != direction) {
                return false;
            }
        }
        return direction != 0;
    }
}
