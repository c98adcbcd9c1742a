package railproof.signal;

import railproof.base.Measured;
import railproof.base.Unit;

/**
 * Mean, standard deviation and lag-1 autocorrelation of a series, and what they say of the mean's uncertainty.
 *
 * <p>Two passes: the mean first, then the moments about it, each with its rounding remainder put back. The one-pass
 * formula (sum of squares less square of sum) is useless for millivolts on top of hundreds of volts.
 *
 * <p>Thread: immutable; any.
 *
 * @param count number of samples, at least 2
 * @param meanDimensionless mean, in the samples' unit
 * @param sdDimensionless standard deviation, denominator n − 1, in the samples' unit
 * @param lag1Dimensionless lag-1 autocorrelation, −1 to 1; 0 for a constant series, which has none
 */
public record Statistics(int count, double meanDimensionless, double sdDimensionless, double lag1Dimensionless) {
    /** Above this correlation the series says next to nothing of its mean; the factor is held here. */
    private static final double HIGHEST_LAG1 = 0.99;

    /**
     * Computes them.
     *
     * @param samples at least 2, all finite
     */
    public static Statistics of(double... samples) {
        Samples.require(samples, 2);
        int n = samples.length;
        double mean = mean(samples);
        double squares = 0;
        double products = 0;
        for (int i = 0; i < n; i++) {
            double d = samples[i] - mean;
            squares += d * d;
            if (i + 1 < n) {
                products += d * (samples[i + 1] - mean);
            }
        }
        double lag1 = squares > 0 ? products / squares : 0;
        return new Statistics(n, mean, Math.sqrt(squares / (n - 1)), lag1);
    }

    /** Arithmetic mean of at least one finite sample, with its rounding remainder put back. */
    public static double mean(double... samples) {
        Samples.require(samples, 1);
        double sum = 0;
        for (double sample : samples) {
            sum += sample;
        }
        double mean = sum / samples.length;
        double rest = 0;
        for (double sample : samples) {
            rest += sample - mean;
        }
        return mean + rest / samples.length;
    }

    /**
     * How many independent samples the series is worth: n (1 − r) / (1 + r) for a first-order autoregressive series
     * with lag-1 correlation r. Negative correlation is not credited. At least 1, at most n.
     */
    public double effectiveCount() {
        double r = Math.min(HIGHEST_LAG1, Math.max(0, lag1Dimensionless));
        return Math.max(1, count * (1 - r) / (1 + r));
    }

    /** Standard uncertainty of the mean (type A), correlation taken into account, in the samples' unit. */
    public double standardUOfMean() {
        return sdDimensionless / Math.sqrt(effectiveCount());
    }

    /** The mean with its type A uncertainty and its degrees of freedom; nothing shared. */
    public Measured measuredMean(Unit unit) {
        return new Measured(meanDimensionless, standardUOfMean(), 0, Math.max(1, effectiveCount() - 1), unit);
    }
}
