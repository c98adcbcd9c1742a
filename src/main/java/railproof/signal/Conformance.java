package railproof.signal;

/**
 * How likely a measured value conforms to its limits, and what a decision rule risks: JCGM 106:2012.
 *
 * <p>Thread: pure; any.
 */
public final class Conformance {
    private static final int STEPS = 4000;

    private Conformance() {}

    /**
     * Probability that the true value lies within the limits, given the measured one (JCGM 106:2012, 7.2 to 7.4;
     * normal distribution).
     *
     * @param value measured
     * @param standardU its standard uncertainty, zero or more
     * @param low lower limit, may be −∞
     * @param high upper limit, may be +∞, not below the lower
     */
    public static double probability(double value, double standardU, double low, double high) {
        if (standardU == 0) {
            return value >= low && value <= high ? 1 : 0;
        }
        Samples.requirePositive("standard uncertainty", standardU);
        double above = Double.isInfinite(high) ? 0 : Students.normalCdf((value - high) / standardU);
        double below = Double.isInfinite(low) ? 0 : Students.normalCdf((low - value) / standardU);
        return Math.max(0, 1 - above - below);
    }

    /** Test uncertainty ratio: tolerance span over 2 U. All above zero. */
    public static double testUncertaintyRatio(double span, double expandedU) {
        Samples.requirePositive("tolerance span", span);
        Samples.requirePositive("expanded uncertainty", expandedU);
        return span / (2 * expandedU);
    }

    /** Risk over a whole population of units, each as a probability. */
    public record Risk(double falseAcceptDimensionless, double falseRejectDimensionless) {}

    /**
     * Global risk of a two-sided test (JCGM 106:2012, 9.5; both distributions normal and centred): limits ± 1, units
     * spread so that {@code inTolerance} of them conform, U = 1 / TUR with k = 2, acceptance within ± (1 − guard U).
     *
     * @param ratio test uncertainty ratio, above zero
     * @param inTolerance share of units that conform, above 0, below 1
     * @param guardShare guard band as a share of U: 0 for simple acceptance, 1 for w = U
     */
    public static Risk globalRisk(double ratio, double inTolerance, double guardShare) {
        Samples.requirePositive("test uncertainty ratio", ratio);
        double unitSd = 1 / Students.twoSided(inTolerance, Double.POSITIVE_INFINITY);
        double u = 0.5 / ratio;
        double edge = 1 - guardShare / ratio;
        double accept = edge <= 0 ? 0 : integrate(1, 1 + 12 * unitSd, unitSd, u, edge);
        double inside = integrate(0, 1, unitSd, u, Math.max(edge, 0));
        double passing = edge <= 0 ? 0 : inside;
        return new Risk(2 * accept, inTolerance - 2 * passing);
    }

    /** Simpson's rule over the units' density times the chance that the reading is accepted. */
    private static double integrate(double from, double to, double unitSd, double u, double edge) {
        double step = (to - from) / STEPS;
        double sum = 0;
        for (int i = 0; i <= STEPS; i++) {
            double x = from + i * step;
            double density = Math.exp(-0.5 * x * x / (unitSd * unitSd)) / (unitSd * Math.sqrt(2 * Math.PI));
            double accepted = Students.normalCdf((edge - x) / u) - Students.normalCdf((-edge - x) / u);
            double weight = i == 0 || i == STEPS ? 1 : i % 2 == 1 ? 4 : 2;
            sum += weight * density * accepted;
        }
        return sum * step / 3;
    }
}
