package railproof.archive;

import java.util.List;
import java.util.Optional;

/**
 * How far the units of a type stay from a limit, in units of their own spread: the performance index
 * {@code Ppk = min((high − mean)/(3 s), (mean − low)/(3 s))} with the standard deviation s of all values together
 * (ISO 22514-2, long-term; where only one limit is set, its side alone). It supposes a normal distribution.
 *
 * <p>The lower confidence bound is Bissell's approximation (A. F. Bissell, How reliable is your capability index?,
 * Applied Statistics 39, 1990), one-sided 95 %. Below {@value #FEWEST} units the index says nothing and is not given
 * (common practice, no source).
 *
 * @param count number of units
 * @param meanDimensionless mean of their values, in the check's unit
 * @param standardDeviationDimensionless standard deviation of their values, in the check's unit; 0 for one unit
 * @param ppk the index; empty with too few units, without spread, or without a limit
 * @param ppkLow its lower confidence bound
 */
public record Capability(
        int count,
        double meanDimensionless,
        double standardDeviationDimensionless,
        Optional<Double> ppk,
        Optional<Double> ppkLow) {
    /** The fewest units an index is given for. */
    public static final int FEWEST = 25;

    /** One-sided 95 % of the normal distribution. */
    private static final double Z = 1.6448536269514722;

    /**
     * The capability of a set of units.
     *
     * @param values one of each unit; at least one
     * @param low lower limit
     * @param high upper limit
     */
    public static Capability of(List<Double> values, Optional<Double> low, Optional<Double> high) {
        int n = values.size();
        double sum = 0;
        for (double value : values) {
            sum += value;
        }
        double mean = sum / n;
        double squares = 0;
        for (double value : values) {
            squares += (value - mean) * (value - mean);
        }
        double s = n < 2 ? 0 : Math.sqrt(squares / (n - 1));
        if (n < FEWEST || !(s > 0) || (low.isEmpty() && high.isEmpty())) {
            return new Capability(n, mean, s, Optional.empty(), Optional.empty());
        }
        double below = low.map(limit -> (mean - limit) / (3 * s)).orElse(Double.POSITIVE_INFINITY);
        double above = high.map(limit -> (limit - mean) / (3 * s)).orElse(Double.POSITIVE_INFINITY);
        double ppk = Math.min(below, above);
        double bound = ppk - Z * Math.sqrt(1 / (9.0 * n) + ppk * ppk / (2.0 * n - 2));
        return new Capability(n, mean, s, Optional.of(ppk), Optional.of(bound));
    }
}
