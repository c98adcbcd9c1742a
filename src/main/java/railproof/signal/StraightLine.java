package railproof.signal;

import railproof.base.Measured;
import railproof.base.Unit;

/**
 * A straight line y = b₀ + b₁ x through points by least squares, with what is known of its uncertainty.
 *
 * <p>Computed about the (weighted) centre of the x values, which keeps all digits (NIST StRD Norris to 1e-12).
 *
 * <p>Thread: immutable; any.
 *
 * @param interceptDimensionless b₀, in the unit of y
 * @param slopeDimensionless b₁, unit of y per unit of x
 * @param interceptU standard uncertainty of b₀
 * @param slopeU standard uncertainty of b₁
 * @param covarianceDimensionless covariance of b₀ and b₁
 * @param residualSdDimensionless residual standard deviation (unweighted fits: in the unit of y; weighted: relative to
 *     the stated uncertainties, 1 if they are right)
 * @param rSquaredRatio share of the variance explained
 * @param dof degrees of freedom left
 */
public record StraightLine(
        double interceptDimensionless,
        double slopeDimensionless,
        double interceptU,
        double slopeU,
        double covarianceDimensionless,
        double residualSdDimensionless,
        double rSquaredRatio,
        int dof) {
    /**
     * Ordinary least squares; uncertainties from the scatter.
     *
     * @param x at least three values, not all the same
     * @param y as many
     */
    public static StraightLine fit(double[] x, double[] y) {
        requirePairs(x, y, 3);
        double[] weights = new double[x.length];
        java.util.Arrays.fill(weights, 1);
        return fit(x, y, weights, true);
    }

    /**
     * Weighted least squares, each point with its own standard uncertainty; the result's uncertainties follow from
     * those, not from the scatter.
     *
     * @param x at least two values, not all the same
     * @param y as many
     * @param standardU standard uncertainty of each y, above zero
     */
    public static StraightLine fitWeighted(double[] x, double[] y, double[] standardU) {
        requirePairs(x, y, 2);
        requirePairs(x, standardU, 2);
        double[] weights = new double[x.length];
        for (int i = 0; i < weights.length; i++) {
            Samples.requirePositive("standard uncertainty " + i, standardU[i]);
            weights[i] = 1 / (standardU[i] * standardU[i]);
        }
        return fit(x, y, weights, false);
    }

    /**
     * Least squares through the origin, y = b₁ x.
     *
     * @param x at least two values, not all zero
     * @param y as many
     */
    public static StraightLine throughOrigin(double[] x, double[] y) {
        requirePairs(x, y, 2);
        double sxx = 0;
        double sxy = 0;
        double syy = 0;
        for (int i = 0; i < x.length; i++) {
            sxx += x[i] * x[i];
            sxy += x[i] * y[i];
            syy += y[i] * y[i];
        }
        Samples.requirePositive("sum of x squared", sxx);
        double slope = sxy / sxx;
        double rss = 0;
        for (int i = 0; i < x.length; i++) {
            double r = y[i] - slope * x[i];
            rss += r * r;
        }
        int dof = x.length - 1;
        double sd = Math.sqrt(rss / dof);
        return new StraightLine(0, slope, 0, sd / Math.sqrt(sxx), 0, sd, syy > 0 ? 1 - rss / syy : 1, dof);
    }

    private static StraightLine fit(double[] x, double[] y, double[] w, boolean fromScatter) {
        double sw = 0;
        double swx = 0;
        double swy = 0;
        for (int i = 0; i < x.length; i++) {
            sw += w[i];
            swx += w[i] * x[i];
            swy += w[i] * y[i];
        }
        double mx = swx / sw;
        double my = swy / sw;
        double sxx = 0;
        double sxy = 0;
        double syy = 0;
        for (int i = 0; i < x.length; i++) {
            double dx = x[i] - mx;
            double dy = y[i] - my;
            sxx += w[i] * dx * dx;
            sxy += w[i] * dx * dy;
            syy += w[i] * dy * dy;
        }
        Samples.requirePositive("spread of x", sxx);
        double slope = sxy / sxx;
        double rss = 0;
        for (int i = 0; i < x.length; i++) {
            double r = y[i] - my - slope * (x[i] - mx);
            rss += w[i] * r * r;
        }
        int dof = x.length - 2;
        double sd = dof > 0 ? Math.sqrt(rss / dof) : 0;
        double scale = fromScatter ? sd : 1;
        double slopeU = scale / Math.sqrt(sxx);
        double interceptU = scale * Math.sqrt(1 / sw + mx * mx / sxx);
        return new StraightLine(
                my - slope * mx,
                slope,
                interceptU,
                slopeU,
                -mx * slopeU * slopeU,
                sd,
                syy > 0 ? 1 - rss / syy : 1,
                dof);
    }

    /** The line's value at {@code x}, in the unit of y. */
    public double at(double x) {
        return interceptDimensionless + slopeDimensionless * x;
    }

    /** Standard uncertainty of the line's value at {@code x}; intercept and slope are correlated, and that is used. */
    public double standardUAt(double x) {
        double variance = interceptU * interceptU + x * x * slopeU * slopeU + 2 * x * covarianceDimensionless;
        return Math.sqrt(Math.max(0, variance));
    }

    /** Correlation coefficient of intercept and slope, −1 to 1; 0 for an exact fit. */
    public double correlation() {
        double product = interceptU * slopeU;
        return product > 0 ? covarianceDimensionless / product : 0;
    }

    /**
     * The static output resistance of a rail whose output voltage (y, V) was taken at several load currents (x, A):
     * the slope turned round, in Ω; falling output is positive.
     */
    public Measured outputResistance() {
        return new Measured(-slopeDimensionless, slopeU, 0, Math.max(1, dof), Unit.OHM);
    }

    private static void requirePairs(double[] x, double[] y, int least) {
        Samples.require(x, least);
        Samples.require(y, least);
        if (x.length != y.length) {
            throw new IllegalArgumentException("got " + x.length + " values of x and " + y.length + " of y");
        }
    }
}
