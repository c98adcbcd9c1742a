package railproof.signal;

import railproof.base.Measured;

/**
 * Coverage factors: from a standard to an expanded uncertainty, GUM (JCGM 100:2008) annex G.
 *
 * <p>Thread: immutable; any.
 */
public enum Coverage {
    /** 95 %. */
    P95(0.95),
    /** 95.45 %: k = 2 where the degrees of freedom are many. */
    P95_45(0.9545),
    /** 99 %. */
    P99(0.99);

    private final double probabilityDimensionless;

    Coverage(double probabilityDimensionless) {
        this.probabilityDimensionless = probabilityDimensionless;
    }

    /** The coverage probability, 0 to 1. */
    public double probability() {
        return probabilityDimensionless;
    }

    /**
     * The coverage factor k: the two-sided quantile of Student's t for the effective degrees of freedom, cut down to
     * a whole number (GUM G.4.1, note 1).
     *
     * @param effectiveDof at least 1, may be infinite
     */
    public double factor(double effectiveDof) {
        // 1e-9: a whole number that rounding left a hair below itself stays that number
        return Students.twoSided(probabilityDimensionless, Math.floor(effectiveDof * (1 + 1e-9)));
    }

    /** The coverage factor for a measured value. */
    public double factor(Measured measured) {
        return factor(measured.effectiveDof());
    }

    /** The expanded uncertainty U = k u of a measured value, in its unit. */
    public double expandedU(Measured measured) {
        return factor(measured) * measured.standardU();
    }

    /** k where one rectangular distribution outweighs all else: √3 times the probability (EA-4/02 M, S9). */
    public double rectangleFactor() {
        return Math.sqrt(3) * probabilityDimensionless;
    }

    /**
     * k where two rectangular distributions outweigh all else: their sum is a trapezoid (EA-4/02 M, S10). With
     * β = |a₁ − a₂| / (a₁ + a₂), k = (1 − √((1 − p)(1 − β²))) / √((1 + β²) / 6), as long as the interval reaches into
     * the sloping flanks; else the trapezoid is as good as a rectangle there.
     *
     * @param firstHalfWidth half-width a₁, zero or more
     * @param secondHalfWidth half-width a₂, zero or more, not both zero
     */
    public double trapezoidFactor(double firstHalfWidth, double secondHalfWidth) {
        double sum = firstHalfWidth + secondHalfWidth;
        Samples.requirePositive("sum of the half-widths", sum);
        double beta = Math.abs(firstHalfWidth - secondHalfWidth) / sum;
        double p = probabilityDimensionless;
        double sd = Math.sqrt((1 + beta * beta) / 6);
        if (p <= 2 * beta / (1 + beta)) {
            return 0.5 * p * (1 + beta) / sd;
        }
        return (1 - Math.sqrt((1 - p) * (1 - beta * beta))) / sd;
    }

    /**
     * k for the sum of a rectangular and a normal contribution, from its distribution function; between the
     * rectangle's factor and the normal's, without a jump where one begins to outweigh the other.
     *
     * @param halfWidth half-width of the rectangle, above zero
     * @param normalU standard uncertainty of the other, zero or more
     */
    public double rectangleAndNormalFactor(double halfWidth, double normalU) {
        Samples.requirePositive("half-width", halfWidth);
        if (normalU < 1e-6 * halfWidth) {
            return rectangleFactor();
        }
        double low = 0;
        double high = halfWidth + 6 * normalU;
        for (int i = 0; i < 100; i++) {
            double middle = 0.5 * (low + high);
            double up = normalIntegral((middle + halfWidth) / normalU);
            double down = normalIntegral((middle - halfWidth) / normalU);
            double inside = normalU / halfWidth * (up - down) - 1;
            low = inside < probabilityDimensionless ? middle : low;
            high = inside < probabilityDimensionless ? high : middle;
        }
        return high / Math.hypot(halfWidth / Math.sqrt(3), normalU);
    }

    /** Integral of the normal distribution function up to z. */
    private static double normalIntegral(double z) {
        return z * Students.normalCdf(z) + Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
    }
}
