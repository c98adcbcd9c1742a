package railproof.signal;

/**
 * Student's t and the normal distribution: probabilities and quantiles.
 *
 * <p>The t probability comes from the regularised incomplete beta function by its continued fraction (Lentz's way of
 * evaluating it), the normal one from the error function's series and continued fraction; quantiles by bisection on
 * them. Good to 1e-9 relative for probabilities from 1e-9 to 1 − 1e-9 and 1 to 1e6 degrees of freedom; beyond 1e7
 * degrees the normal distribution is used.
 *
 * <p>Thread: pure; any.
 */
public final class Students {
    private static final double NORMAL_BEYOND_DOF = 1e7;
    private static final int MOST_TERMS = 20_000;
    private static final double SMALLEST_STEP = 1e-16;
    private static final double TINY = 1e-300;
    /** Coefficients of Stirling's series for log gamma, B₂ₙ / (2n (2n − 1)). */
    private static final double[] STIRLING = {
        1.0 / 12, -1.0 / 360, 1.0 / 1260, -1.0 / 1680, 1.0 / 1188, -691.0 / 360360, 1.0 / 156
    };

    /** From here on seven terms of the series are good to 1e-16. */
    private static final double STIRLING_FROM = 12;

    private Students() {}

    /**
     * The two-sided quantile t for which P(−t ≤ T ≤ t) = {@code probability}.
     *
     * @param probability above 0, below 1
     * @param dof degrees of freedom, at least 1, may be infinite
     */
    public static double twoSided(double probability, double dof) {
        return quantile(0.5 + 0.5 * probability, dof);
    }

    /**
     * The value t for which P(T ≤ t) = {@code probability}.
     *
     * @param probability above 0, below 1
     * @param dof degrees of freedom, at least 1, may be infinite
     */
    public static double quantile(double probability, double dof) {
        if (!(probability > 0 && probability < 1)) {
            throw new IllegalArgumentException("probability must lie between 0 and 1, got " + probability);
        }
        if (probability == 0.5) {
            return 0;
        }
        double tail = Math.min(probability, 1 - probability);
        double low = 0;
        double high = 1;
        while (upperTail(high, dof) > tail) {
            low = high;
            high *= 2;
        }
        while (high - low > 1e-14 * high) {
            double middle = 0.5 * (low + high);
            if (middle <= low || middle >= high) {
                break;
            }
            if (upperTail(middle, dof) > tail) {
                low = middle;
            } else {
                high = middle;
            }
        }
        double t = 0.5 * (low + high);
        return probability > 0.5 ? t : -t;
    }

    /** P(T ≤ t) for {@code dof} degrees of freedom (at least 1, may be infinite). */
    public static double cdf(double t, double dof) {
        double tail = upperTail(Math.abs(t), dof);
        return t >= 0 ? 1 - tail : tail;
    }

    /** P(Z ≤ z) of the standard normal distribution. */
    public static double normalCdf(double z) {
        return cdf(z, Double.POSITIVE_INFINITY);
    }

    private static double upperTail(double t, double dof) {
        if (!(dof >= 1)) {
            throw new IllegalArgumentException("degrees of freedom must be at least 1, got " + dof);
        }
        if (t == 0) {
            return 0.5;
        }
        if (dof > NORMAL_BEYOND_DOF) {
            return 0.5 * erfc(t / Math.sqrt(2));
        }
        return 0.5 * incompleteBeta(dof / (dof + t * t), t * t / (dof + t * t), 0.5 * dof, 0.5);
    }

    /** Complementary error function for x of zero or more. */
    private static double erfc(double x) {
        if (x < 2) {
            double term = x;
            double sum = x;
            for (int n = 1; n < MOST_TERMS && term > SMALLEST_STEP * sum; n++) {
                term *= 2 * x * x / (2 * n + 1);
                sum += term;
            }
            return 1 - 2 / Math.sqrt(Math.PI) * Math.exp(-x * x) * sum;
        }
        // backward evaluation of the continued fraction; 60 levels are far more than x >= 2 needs
        double fraction = x;
        for (int n = 120; n >= 1; n--) {
            fraction = x + 0.5 * n / fraction;
        }
        return Math.exp(-x * x) / (Math.sqrt(Math.PI) * fraction);
    }

    private static double incompleteBeta(double x, double oneMinusX, double a, double b) {
        if (x <= 0) {
            return 0;
        }
        if (oneMinusX <= 0) {
            return 1;
        }
        double front =
                Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log(oneMinusX));
        return x < (a + 1) / (a + b + 2)
                ? front * betaFraction(x, a, b) / a
                : 1 - front * betaFraction(oneMinusX, b, a) / b;
    }

    private static double betaFraction(double x, double a, double b) {
        double c = 1;
        double d = 1 / nonZero(1 - (a + b) * x / (a + 1));
        double h = d;
        for (int m = 1; m <= MOST_TERMS; m++) {
            double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
            d = 1 / nonZero(1 + even * d);
            c = nonZero(1 + even / c);
            h *= d * c;
            double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
            d = 1 / nonZero(1 + odd * d);
            c = nonZero(1 + odd / c);
            double step = d * c;
            h *= step;
            if (Math.abs(step - 1) < SMALLEST_STEP) {
                break;
            }
        }
        return h;
    }

    private static double nonZero(double value) {
        return Math.abs(value) < TINY ? TINY : value;
    }

    private static double logGamma(double x) {
        double z = x;
        double product = 1;
        while (z < STIRLING_FROM) {
            product *= z;
            z += 1;
        }
        double series = 0;
        double power = 1 / z;
        for (double coefficient : STIRLING) {
            series += coefficient * power;
            power /= z * z;
        }
        return (z - 0.5) * Math.log(z) - z + 0.5 * Math.log(2 * Math.PI) + series - Math.log(product);
    }
}
