package railproof.signal;

/**
 * How fast a reading walks away, over minutes or hours: a straight line through it, with an uncertainty that knows that
 * slow readings hang together.
 *
 * <p>Thread: immutable; any.
 *
 * @param slopeVPerS slope, V per s
 * @param slopeU its standard uncertainty, V per s
 * @param changeV what the line changes over the record, V
 * @param dof degrees of freedom behind the uncertainty, at least 1
 */
public record Drift(double slopeVPerS, double slopeU, double changeV, double dof) {
    /**
     * Fits.
     *
     * @param timesS when, s, ascending; at least 5, equally spaced for the correlation to mean anything
     * @param valuesV what, V
     */
    public static Drift of(double[] timesS, double[] valuesV) {
        Samples.require(timesS, 5);
        StraightLine line = StraightLine.fit(timesS, valuesV);
        double[] left = new double[timesS.length];
        for (int i = 0; i < left.length; i++) {
            left[i] = valuesV[i] - line.at(timesS[i]);
        }
        // the mean's loss of information by correlation is the slope's too
        double worth = Statistics.of(left).effectiveCount() / left.length;
        double length = timesS[timesS.length - 1] - timesS[0];
        return new Drift(
                line.slopeDimensionless(),
                line.slopeU() / Math.sqrt(worth),
                line.slopeDimensionless() * length,
                Math.max(1, left.length * worth - 2));
    }

    /** Whether it drifts at all, at 95.45 % confidence. */
    public boolean significant() {
        return Math.abs(slopeVPerS) > Coverage.P95_45.factor(dof) * slopeU;
    }
}
