package railproof.signal;

import java.util.Arrays;

/**
 * What the channel's own noise adds to a peak-to-peak reading, and its removal. The highest of many noisy samples lies
 * above the highest true one: by several standard deviations where the waveform is flat, by little where it is sharp.
 *
 * <p>Method: the cycles are laid upon each other and averaged, which leaves the waveform with its noise smaller by the
 * square root of their number. For that waveform the expected highest and lowest sample under the channel's noise are
 * integrated, E[max] = top + ∫ (1 − ∏ Φ((t − xᵢ)/σ)) dt. What the noise left in the average has already lifted is
 * estimated in the same way and added. Only the channel's stated noise is taken off; noise of the unit stays in.
 *
 * <p>Thread: pure; any.
 */
public final class RippleNoise {
    private static final int STEPS = 56;
    /** So far from the top a sample has no part in the maximum any more, in standard deviations. */
    private static final double REACH = 7;

    /** So many samples are sorted to guess the converter's step. */
    private static final int SOME = 4096;

    private static final int PER_UNIT = 200;
    private static final double[] NORMAL = table();

    private RippleNoise() {}

    /**
     * How much too large the peak-to-peak value of one cycle is on average, V.
     *
     * @param samplesV rail voltage, V
     * @param window whole line cycles
     * @param noiseV standard deviation of the channel's noise on one sample before it is rounded to a code, V: rounding
     *     cannot carry a sample further than half a code and does not lift the extremes
     */
    public static double excessPpV(double[] samplesV, Cycles window, double noiseV) {
        if (!(noiseV > 0)) {
            return 0;
        }
        double[] cycle = averageCycle(samplesV, window);
        double leftV = noiseV / Math.sqrt(window.count());
        double[] turned = new double[cycle.length];
        for (int i = 0; i < cycle.length; i++) {
            turned[i] = -cycle[i];
        }
        Arrays.sort(cycle);
        Arrays.sort(turned);
        return lift(cycle, noiseV) + lift(turned, noiseV) + lift(cycle, leftV) + lift(turned, leftV);
    }

    /**
     * The converter's step as the samples show it, V: the smallest difference between two of them; 0 if all are the
     * same. Differences at the level of the doubles' own rounding are none.
     */
    public static double resolutionV(double[] samplesV) {
        Samples.require(samplesV, 1);
        Samples.Extent all = Samples.extent(samplesV, 0, samplesV.length);
        double rounding = 1e-12 * Math.max(Math.abs(all.low()), Math.abs(all.high()));
        double seen = gapOfSorted(Arrays.copyOf(samplesV, Math.min(SOME, samplesV.length)), rounding);
        double drawers = 2 * all.span() / seen;
        if (samplesV.length > SOME && drawers < samplesV.length) {
            double gap = gapBetweenDrawers(samplesV, all.low(), 0.5 * seen, (int) drawers + 1, rounding);
            if (gap > 0) {
                return gap;
            }
        }
        return gapOfSorted(samplesV.clone(), rounding);
    }

    /**
     * The smallest gap if each drawer (half the smallest gap between some of the samples) holds one value only, as those
     * of a converter do; 0 if not. Linear in the samples.
     */
    private static double gapBetweenDrawers(double[] y, double low, double width, int drawers, double rounding) {
        double[] held = new double[drawers];
        Arrays.fill(held, Double.NaN);
        double perVolt = 1 / width;
        for (double v : y) {
            int i = Math.min((int) ((v - low) * perVolt), drawers - 1);
            if (held[i] != v) {
                if (Math.abs(held[i] - v) > rounding) {
                    return 0;
                }
                held[i] = v;
            }
        }
        double gap = Double.POSITIVE_INFINITY;
        double before = Double.NEGATIVE_INFINITY;
        for (double v : held) {
            if (!Double.isNaN(v)) {
                gap = v - before > rounding ? Math.min(gap, v - before) : gap;
                before = v;
            }
        }
        return Double.isInfinite(gap) ? 0 : gap;
    }

    private static double gapOfSorted(double[] rising, double rounding) {
        Arrays.sort(rising);
        double least = Double.POSITIVE_INFINITY;
        for (int i = 1; i < rising.length; i++) {
            double gap = rising[i] - rising[i - 1];
            least = gap > rounding ? Math.min(least, gap) : least;
        }
        return Double.isInfinite(least) ? 0 : least;
    }

    private static double[] averageCycle(double[] samples, Cycles window) {
        int length = Integer.MAX_VALUE;
        for (int c = 0; c < window.count(); c++) {
            length = Math.min(length, window.firstSample(c + 1) - window.firstSample(c));
        }
        double[] cycle = new double[length];
        for (int c = 0; c < window.count(); c++) {
            int first = window.firstSample(c);
            for (int i = 0; i < length; i++) {
                cycle[i] += samples[first + i];
            }
        }
        for (int i = 0; i < length; i++) {
            cycle[i] /= window.count();
        }
        return cycle;
    }

    /** How far above the highest sample the highest noisy one is expected; the samples ascend. */
    static double lift(double[] rising, double sd) {
        // E[max] = from + ∫ above from of P(max > t), with a from that the highest surely exceeds
        double from = rising[rising.length - 1] - REACH * sd;
        double step = 2 * REACH * sd / STEPS;
        double sum = 0;
        for (int k = 0; k < STEPS; k++) {
            double t = from + (k + 0.5) * step;
            double below = 1;
            for (int i = rising.length - 1; i >= 0 && below > 1e-12 && t - rising[i] < REACH * sd; i--) {
                below *= normal((t - rising[i]) / sd);
            }
            sum += 1 - below;
        }
        return sum * step - REACH * sd;
    }

    private static double[] table() {
        double[] table = new double[(int) (2 * REACH * PER_UNIT) + 2];
        for (int i = 0; i < table.length; i++) {
            table[i] = Students.normalCdf((double) i / PER_UNIT - REACH);
        }
        return table;
    }

    /** The normal distribution function from −7 to 7, by straight lines between its values at every 1/200: good to 1e-6. */
    private static double normal(double z) {
        // below −7 where the noise is no more than the samples' own rounding
        double place = Math.max(0, (z + REACH) * PER_UNIT);
        int i = (int) place;
        double part = place - i;
        return NORMAL[i] * (1 - part) + NORMAL[i + 1] * part;
    }
}
