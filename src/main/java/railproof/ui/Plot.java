package railproof.ui;

import java.util.List;
import railproof.base.Unit;
import railproof.profile.Band;

/**
 * A curve to be drawn: values, what is allowed, and the window onto both.
 *
 * @param title what it shows
 * @param x across
 * @param y up
 * @param curve points in the order they were taken
 * @param before those of an earlier run, to be drawn behind; empty if there is none
 * @param allowedY what y may be; open ends are allowed
 * @param allowedX where x should be; open ends are allowed
 */
record Plot(String title, Axis x, Axis y, List<Dot> curve, List<Dot> before, Band allowedY, Band allowedX) {
    /** No limit at all. */
    static final Band ANY = new Band(Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY);

    Plot {
        curve = List.copyOf(curve);
        before = List.copyOf(before);
    }

    /** A curve alone. */
    Plot(String title, Axis x, Axis y, List<Dot> curve, Band allowedY, Band allowedX) {
        this(title, x, y, curve, List.of(), allowedY, allowedX);
    }

    /** The same with an earlier curve behind it; the axes hold both. */
    Plot over(Plot earlier) {
        return new Plot(title, x.with(earlier.x), y.with(earlier.y), curve, earlier.curve, allowedY, allowedX);
    }

    /**
     * One axis.
     *
     * @param lowDimensionless its lower end, in its unit
     * @param highDimensionless its upper end, above the lower
     */
    record Axis(String name, Unit unit, double lowDimensionless, double highDimensionless) {
        /** Where a value lies, 0 at the lower end and 1 at the upper. */
        double at(double value) {
            return (value - lowDimensionless) / (highDimensionless - lowDimensionless);
        }

        /** An axis that holds another one too. */
        Axis with(Axis other) {
            return new Axis(
                    name,
                    unit,
                    Math.min(lowDimensionless, other.lowDimensionless),
                    Math.max(highDimensionless, other.highDimensionless));
        }

        boolean holds(double value) {
            return value >= lowDimensionless && value <= highDimensionless;
        }
    }

    /** One point, in the axes' units. */
    record Dot(double xDimensionless, double yDimensionless) {}
}
