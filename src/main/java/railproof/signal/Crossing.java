package railproof.signal;

/**
 * Where a record goes through a level.
 *
 * @param atS time after the reference sample, s
 * @param slopeVPerS how steeply, V/s, without sign; what an error of the level costs in time
 */
record Crossing(double atS, double slopeVPerS) {
    /** Samples on either side that the slope is taken over. */
    private static final int REACH = 5;

    /**
     * Between a sample and the next, on the straight line through them.
     *
     * @param v the record, V
     * @param i the sample before
     * @param level the level, V
     * @param fromIndex the reference sample
     */
    static Crossing after(double[] v, double rateHz, int i, double level, int fromIndex) {
        double part = i + 1 < v.length && v[i + 1] != v[i] ? (level - v[i]) / (v[i + 1] - v[i]) : 0;
        int low = Math.max(0, i - REACH);
        int high = Math.min(v.length - 1, i + 1 + REACH);
        double slope = high > low ? Math.abs(v[high] - v[low]) * rateHz / (high - low) : 0;
        return new Crossing((i + Math.min(1, Math.max(0, part)) - fromIndex) / rateHz, slope);
    }

    /** The standard uncertainty of the time from an error of the level and the sample spacing, s. */
    double standardUS(double levelUV, double rateHz) {
        double spacingS = 1 / (rateHz * Math.sqrt(12));
        return slopeVPerS > 0 ? Math.hypot(spacingS, levelUV / slopeVPerS) : spacingS;
    }
}
