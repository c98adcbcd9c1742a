package railproof.profile;

/**
 * A closed interval of allowed values; both ends are inside. Either end may be open (infinite).
 *
 * @param lowDimensionless lower end in the unit of what it limits; {@code -Infinity} if there is none
 * @param highDimensionless upper end; {@code +Infinity} if there is none; not below the lower end
 */
public record Band(double lowDimensionless, double highDimensionless) {
    public Band {
        if (!(lowDimensionless <= highDimensionless)) {
            throw new IllegalArgumentException(
                    "a band needs low <= high, got " + lowDimensionless + " to " + highDimensionless);
        }
    }

    /** No lower limit. */
    public static Band atMost(double high) {
        return new Band(Double.NEGATIVE_INFINITY, high);
    }

    /** No upper limit. */
    public static Band atLeast(double low) {
        return new Band(low, Double.POSITIVE_INFINITY);
    }

    /** Lower end. */
    public double low() {
        return lowDimensionless;
    }

    /** Upper end. */
    public double high() {
        return highDimensionless;
    }

    /** Whether the value lies inside; the ends are inside. */
    public boolean contains(double value) {
        return value >= lowDimensionless && value <= highDimensionless;
    }
}
