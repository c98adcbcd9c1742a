package railproof.signal;

import java.util.OptionalDouble;

/**
 * Where a record goes through a level. Where it falls steeply from sample to sample, on the straight line between the
 * two; where it takes many samples to get clear of its own noise, on a straight line fitted through them: the first or
 * last noisy sample beyond a level is always too early or too late.
 *
 * @param atS time after the reference sample, s
 * @param slopeVPerS how steeply, V/s, without sign; what an error of the level costs in time
 * @param noiseUV what is left of the samples' noise at the crossing, V
 */
record Crossing(double atS, double slopeVPerS, double noiseUV) {
    /** Samples on either side that the slope is taken over. */
    private static final int REACH = 5;

    /** So many standard deviations of noise from one sample to the next are steep enough. */
    private static final double STEEP = 6;

    private static final int FARTHEST = 30;

    /**
     * Near a sample and the next.
     *
     * @param v the record, V
     * @param i the sample before
     * @param level the level, V
     * @param fromIndex the reference sample
     */
    static Crossing after(double[] v, double rateHz, int i, double level, int fromIndex) {
        // what was before the reference sample is no part of the change
        int low = Math.max(Math.min(i, fromIndex), i - REACH);
        int high = Math.min(v.length - 1, i + 1 + REACH);
        double slope = high > low ? Math.abs(v[high] - v[low]) * rateHz / (high - low) : 0;
        double noise = Samples.noiseSd(v, Math.max(low, v.length - v.length / 5), v.length);
        double part = i + 1 < v.length && v[i + 1] != v[i] ? (level - v[i]) / (v[i + 1] - v[i]) : 0;
        double between = Math.min(1, Math.max(0, part));
        double place = i + between;
        double left = noise * Math.hypot(1 - between, between);
        if (slope > 0 && slope < STEEP * noise * rateHz) {
            int reach = (int) Math.min(FARTHEST, Math.ceil(STEEP * noise * rateHz / slope));
            int from = Math.max(fromIndex, i - reach);
            int to = Math.min(v.length - 1, i + 1 + reach);
            OptionalDouble fitted = fitted(v, from, to, level);
            if (fitted.isPresent()) {
                place = fitted.getAsDouble();
                left = noise * Math.sqrt(leverage(to - from + 1, place - 0.5 * (from + to)));
            }
        }
        return new Crossing((place - fromIndex) / rateHz, slope, left);
    }

    /** Variance of a straight line through n samples with noise 1, so far from their middle. */
    private static double leverage(int n, double fromMiddle) {
        return 1.0 / n + 12 * fromMiddle * fromMiddle / (n * ((double) n * n - 1));
    }

    /** Where a straight line through some samples goes through the level; empty if not among them. */
    private static OptionalDouble fitted(double[] v, int from, int to, double level) {
        if (to - from < 3) {
            return OptionalDouble.empty();
        }
        double[] x = new double[to - from + 1];
        double[] y = new double[x.length];
        for (int k = 0; k < x.length; k++) {
            x[k] = from + k;
            y[k] = v[from + k];
        }
        StraightLine line = StraightLine.fit(x, y);
        double place = (level - line.interceptDimensionless()) / line.slopeDimensionless();
        return place >= from && place <= to ? OptionalDouble.of(place) : OptionalDouble.empty();
    }

    /** The standard uncertainty of the time from an error of the level and the sample spacing, s. */
    double standardUS(double levelUV, double rateHz) {
        double spacingS = 1 / (rateHz * Math.sqrt(12));
        return slopeVPerS > 0 ? Math.hypot(spacingS, levelUV / slopeVPerS) : spacingS;
    }
}
