package railproof.base;

/**
 * A measured value with its standard uncertainty (GUM, JCGM 100:2008) and unit.
 *
 * @param value the value, in {@code unit}; finite
 * @param standardUncertainty u, one standard deviation, in {@code unit}; finite, not negative
 * @param degreesOfFreedom effective degrees of freedom of u; at least 1, infinite where u is taken as exactly known
 * @param unit the unit of both
 */
public record Measured(double value, double standardUncertainty, double degreesOfFreedom, Unit unit)
        implements Reading {
    public Measured {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException("value must be finite, got " + value);
        }
        if (!Double.isFinite(standardUncertainty) || standardUncertainty < 0) {
            throw new IllegalArgumentException(
                    "standard uncertainty must be finite and not negative, got " + standardUncertainty);
        }
        if (!(degreesOfFreedom >= 1)) {
            throw new IllegalArgumentException("degrees of freedom must be at least 1, got " + degreesOfFreedom);
        }
    }

    /** A value whose uncertainty is taken as exactly known (infinite degrees of freedom). */
    public Measured(double value, double standardUncertainty, Unit unit) {
        this(value, standardUncertainty, Double.POSITIVE_INFINITY, unit);
    }

    /** The value times a constant, in the same unit; the uncertainty scales with its magnitude. */
    public Measured times(double factor) {
        return new Measured(value * factor, standardUncertainty * Math.abs(factor), degreesOfFreedom, unit);
    }
}
