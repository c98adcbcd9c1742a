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
        // one sample that is not finite leaves no finite sum, so that as a rule none has to be looked at alone
        if (Double.isFinite(sum(samples, 0, samples.length))) {
            return;
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

    static double median(double[] values, int from, int to) {
        return median(Arrays.copyOfRange(values, from, to));
    }

    /**
     * The level a record ends at: the mean of the middle half of its last fifth, or of so many whole line cycles as come nearest below,
     * but at least one if half the record holds it. Ripple cut anywhere else leaves a part of itself.
     *
     * @param from where the change came
     * @param cycleSamples samples in one line cycle; 0 if not known
     */
    static double finalLevel(double[] y, int from, double cycleSamples) {
        int n = y.length;
        int tail = Math.max(2, (n - from) / 5);
        if (cycleSamples >= 1 && 2 * cycleSamples <= n - from) {
            tail = (int) Math.round(Math.max(1, Math.floor(tail / cycleSamples)) * cycleSamples);
        }
        // a median would stand on one of the converter's codes
        double[] sorted = Arrays.copyOfRange(y, n - tail, n);
        Arrays.sort(sorted);
        int quarter = tail / 4;
        return sum(sorted, quarter, tail - quarter) / (tail - 2 * quarter);
    }

    /** Sum from one sample up to before another; in four strands, which a processor adds side by side. */
    static double sum(double[] y, int from, int to) {
        double s0 = 0;
        double s1 = 0;
        double s2 = 0;
        double s3 = 0;
        int i = from;
        for (; i + 3 < to; i += 4) {
            s0 += y[i];
            s1 += y[i + 1];
            s2 += y[i + 2];
            s3 += y[i + 3];
        }
        for (; i < to; i++) {
            s0 += y[i];
        }
        return s0 + s1 + (s2 + s3);
    }

    /** Sum of the squares of the distances from a middle, from one sample up to before another. */
    static double squares(double[] y, double middle, int from, int to) {
        double s0 = 0;
        double s1 = 0;
        double s2 = 0;
        double s3 = 0;
        int i = from;
        for (; i + 3 < to; i += 4) {
            double d0 = y[i] - middle;
            double d1 = y[i + 1] - middle;
            double d2 = y[i + 2] - middle;
            double d3 = y[i + 3] - middle;
            s0 += d0 * d0;
            s1 += d1 * d1;
            s2 += d2 * d2;
            s3 += d3 * d3;
        }
        for (; i < to; i++) {
            s0 += (y[i] - middle) * (y[i] - middle);
        }
        return s0 + s1 + (s2 + s3);
    }

    /**
     * Lowest and highest of some samples, in their unit.
     *
     * @param low the lowest
     * @param high the highest
     */
    record Extent(double low, double high) {
        double span() {
            return high - low;
        }
    }

    /**
     * Lowest and highest of the finite samples from one up to before another. Compared as whole numbers: on a waveform
     * with noise every comparison of doubles is a branch that a processor guesses wrong every third time, and
     * {@link Math#min} takes as long for what it does about values that are not numbers. This takes a quarter of that.
     */
    static Extent extent(double[] y, int from, int to) {
        long low = Long.MAX_VALUE;
        long high = Long.MIN_VALUE;
        for (int i = from; i < to; i++) {
            long ordered = ordered(Double.doubleToRawLongBits(y[i]));
            low = Math.min(low, ordered);
            high = Math.max(high, ordered);
        }
        return new Extent(Double.longBitsToDouble(ordered(low)), Double.longBitsToDouble(ordered(high)));
    }

    /** Bits of doubles (IEEE 754) in the order of the doubles, and back: those of negative ones run backwards. */
    private static long ordered(long bits) {
        return bits ^ ((bits >> 63) & Long.MAX_VALUE);
    }

    static double median(double[] values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        int half = sorted.length / 2;
        return sorted.length % 2 == 1 ? sorted[half] : 0.5 * (sorted[half - 1] + sorted[half]);
    }

    /** This part of the second differences is looked at; the largest are edges. */
    private static final double CALM_RATIO = 0.8;
    /** Mean size of the smaller four fifths of normal values, over their standard deviation: √(2/π) (1 − e^(−z²/2)) / 0.8
     * with z = 1.2816. */
    private static final double CALM_MEAN_TO_SD = 0.5586;

    /**
     * Standard deviation of the noise on a smooth record: of its second differences, over √6; deaf to a few edges. By
     * their mean size, because a median would stand on one of the converter's codes.
     *
     * @param from first sample
     * @param to one after the last; fewer than eight samples have no noise to speak of
     */
    static double noiseSd(double[] y, int from, int to) {
        if (to - from < 8) {
            return 0;
        }
        double[] bends = new double[to - from - 2];
        for (int i = 0; i < bends.length; i++) {
            bends[i] = Math.abs(y[from + i] - 2 * y[from + i + 1] + y[from + i + 2]);
        }
        Arrays.sort(bends);
        int calm = Math.max(1, (int) Math.round(CALM_RATIO * bends.length));
        return sum(bends, 0, calm) / calm / CALM_MEAN_TO_SD / Math.sqrt(6);
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
