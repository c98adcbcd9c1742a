package railproof.base;

/**
 * A measured value with its standard uncertainty (GUM, JCGM 100:2008), split in parts because differences need it:
 * what varies from reading to reading (noise, resolution, non-linearity), what every reading of the same channel
 * shares (its gain and offset since calibration), and what the load current drops between the terminals and the
 * channel. The shared part cancels in a difference on one channel, the varying part adds, and the drop cancels only as
 * far as the current was the same: not at all in load regulation.
 *
 * @param value the value, in {@code unit}; finite
 * @param randomU standard uncertainty of the part that varies, in {@code unit}; finite, not negative
 * @param sharedU standard uncertainty of the shared part, in {@code unit}; finite, not negative
 * @param leadU standard uncertainty of the part in proportion to the load current, one unknown resistance for all
 *     readings of the channel, in {@code unit}; finite, not negative
 * @param randomDof degrees of freedom of the varying part; at least 1, infinite where it is taken as exactly known
 * @param unit the unit of value and uncertainties
 */
public record Measured(double value, double randomU, double sharedU, double leadU, double randomDof, Unit unit)
        implements Reading {
    public Measured {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException("value must be finite, got " + value);
        }
        requireUncertainty("varying", randomU);
        requireUncertainty("shared", sharedU);
        requireUncertainty("lead drop's", leadU);
        if (!(randomDof >= 1)) {
            throw new IllegalArgumentException("degrees of freedom must be at least 1, got " + randomDof);
        }
    }

    /** A value without lead drop. */
    public Measured(double value, double randomU, double sharedU, double randomDof, Unit unit) {
        this(value, randomU, sharedU, 0, randomDof, unit);
    }

    /** A value with one uncertainty, independent of all others and taken as exactly known. */
    public static Measured of(double value, double standardU, Unit unit) {
        return new Measured(value, standardU, 0, Double.POSITIVE_INFINITY, unit);
    }

    /** Combined standard uncertainty u, in the value's unit. */
    public double standardU() {
        return Math.hypot(Math.hypot(randomU, sharedU), leadU);
    }

    /** The same reading with a drop in its leads, of so much standard uncertainty. */
    public Measured withLead(double standardU) {
        return new Measured(value, randomU, sharedU, standardU, randomDof, unit);
    }

    /**
     * Effective degrees of freedom of u by Welch and Satterthwaite (GUM G.4.1), the other parts taken as
     * exactly known; at least 1, possibly infinite.
     */
    public double effectiveDof() {
        double combined = standardU();
        if (randomU == 0 || Double.isInfinite(randomDof)) {
            return Double.POSITIVE_INFINITY;
        }
        double ratio = combined / randomU;
        return randomDof * ratio * ratio * ratio * ratio;
    }

    /** The value times a constant, in the same unit; all parts of the uncertainty scale with its magnitude. */
    public Measured times(double factor) {
        double scale = Math.abs(factor);
        return new Measured(value * factor, randomU * scale, sharedU * scale, leadU * scale, randomDof, unit);
    }

    private static void requireUncertainty(String part, double u) {
        if (!Double.isFinite(u) || u < 0) {
            throw new IllegalArgumentException(part + " uncertainty must be finite and not negative, got " + u);
        }
    }
}
