package railproof.signal;

import java.util.Arrays;

/** What every method here asks of its samples, and order statistics on them. */
final class Samples {
    /** Makes the median absolute deviation an estimate of a normal distribution's standard deviation. */
    private static final double MAD_TO_SD = 1.4826;

    private Samples() {}

    /** Refuses series that are too short or hold a value that is not a number. */
    static void require(double[] samples, int least) {
        if (samples.length < least) {
            throw new IllegalArgumentException("needs at least " + least + " samples, got " + samples.length);
        }
        for (int i = 0; i < samples.length; i++) {
            if (!Double.isFinite(samples[i])) {
                throw new IllegalArgumentException("sample " + i + " is " + samples[i] + ", samples must be finite");
            }
        }
    }

    /** Refuses a value that is not finite and above zero. */
    static void requirePositive(String name, double value) {
        if (!(value > 0) || Double.isInfinite(value)) {
            throw new IllegalArgumentException(name + " must be finite and above zero, got " + value);
        }
    }

    static double median(double[] values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        int half = sorted.length / 2;
        return sorted.length % 2 == 1 ? sorted[half] : 0.5 * (sorted[half - 1] + sorted[half]);
    }

    /** Standard deviation as the median absolute deviation sees it: deaf to a few wild values. */
    static double robustSd(double[] values) {
        double middle = median(values);
        double[] distances = new double[values.length];
        for (int i = 0; i < values.length; i++) {
            distances[i] = Math.abs(values[i] - middle);
        }
        return MAD_TO_SD * median(distances);
    }
}
