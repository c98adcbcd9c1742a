package railproof.base;

/**
 * A measured value with its standard uncertainty (GUM, JCGM 100:2008), split in two parts because differences need it:
 * what varies from reading to reading (noise, resolution, non-linearity), and what every reading of the same channel
 * shares (its gain and offset since calibration). The shared part cancels in a difference on one channel, the other
 * adds.
 *
 * @param value the value, in {@code unit}; finite
 * @param randomU standard uncertainty of the part that varies, in {@code unit}; finite, not negative
 * @param sharedU standard uncertainty of the shared part, in {@code unit}; finite, not negative
 * @param randomDof degrees of freedom of the varying part; at least 1, infinite where it is taken as exactly known
 * @param unit the unit of all three
 */
public record Measured(double value, double randomU, double sharedU, double randomDof, Unit unit) implements Reading {
    public Measured {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException("value must be finite, got " + value);
        }
        requireUncertainty("varying", randomU);
        requireUncertainty("shared", sharedU);
        if (!(randomDof >= 1)) {
            throw new IllegalArgumentException("degrees of freedom must be at least 1, got " + randomDof);
        }
    }

    /** A value with one uncertainty, independent of all others and taken as exactly known. */
    public static Measured of(double value, double standardU, Unit unit) {
        return new Measured(value, standardU, 0, Double.POSITIVE_INFINITY, unit);
    }

    /** Combined standard uncertainty u, in the value's unit. */
    public double standardU() {
        return Math.hypot(randomU, sharedU);
    }

    /**
     * Effective degrees of freedom of u by Welch and Satterthwaite (GUM G.4.1), the shared part taken as exactly
     * known; at least 1, possibly infinite.
     */
    public double effectiveDof() {
        double combined = standardU();
        if (randomU == 0 || Double.isInfinite(randomDof)) {
            return Double.POSITIVE_INFINITY;
        }
        double ratio = combined / randomU;
        return randomDof * ratio * ratio * ratio * ratio;
    }

    /** The value times a constant, in the same unit; both parts of the uncertainty scale with its magnitude. */
    public Measured times(double factor) {
        double scale = Math.abs(factor);
        return new Measured(value * factor, randomU * scale, sharedU * scale, randomDof, unit);
    }

    private static void requireUncertainty(String part, double u) {
        if (!Double.isFinite(u) || u < 0) {
            throw new IllegalArgumentException(part + " uncertainty must be finite and not negative, got " + u);
        }
    }
}
