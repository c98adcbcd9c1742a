package railproof.signal;

import java.util.OptionalDouble;

/**
 * The output from line on until it stands.
 *
 * <p>Thread: immutable; any.
 *
 * @param finalV level at the end of the record (mean of the middle half of about its last fifth), V
 * @param timeS from line on until the output was in its band for good, s; empty if it never was
 * @param standardUS standard uncertainty of that time, s; 0 if it is empty
 * @param overshootV largest excursion above the final value, V, zero or more
 * @param overshootU its standard uncertainty from noise and sampling, V ({@link Peak})
 * @param fallBackV largest fall below a level already reached, before the output first reached its band, V: a rise that
 *     is not monotonic
 */
public record Rise(
        double finalV,
        OptionalDouble timeS,
        double standardUS,
        double overshootV,
        double overshootU,
        double fallBackV) {
    /**
     * Reads a record.
     *
     * @param outputV magnitude of the output, V, oldest first
     * @param rateHz samples per second, Hz
     * @param onIndex first sample with line; at least ten samples after it
     * @param lowV lower end of the band, V
     * @param highV upper end of the band, V; above the lower
     * @param levelUV standard uncertainty of a reading near the band's ends, V
     */
    public static Rise of(double[] outputV, double rateHz, int onIndex, double lowV, double highV, double levelUV) {
        return of(outputV, new Timing(rateHz, 0), onIndex, lowV, highV, levelUV);
    }

    /**
     * How a record was taken.
     *
     * @param rateHz samples per second, Hz
     * @param cycleSamples samples in one line cycle; 0 if not known
     */
    public record Timing(double rateHz, double cycleSamples) {}

    /** The same where the line is known, so that the final value is free of ripple. */
    public static Rise of(double[] outputV, Timing timing, int onIndex, double lowV, double highV, double levelUV) {
        double rateHz = timing.rateHz();
        Samples.requirePositive("sample rate", rateHz);
        Samples.requirePositive("width of the band", highV - lowV);
        Samples.require(outputV, onIndex + 10);
        int n = outputV.length;
        double last = Samples.finalLevel(outputV, onIndex, timing.cycleSamples());
        double highest = 0;
        double noise = Samples.noiseSd(outputV, n - Math.max(8, (n - onIndex) / 5), n);
        Peak top = Peak.of(outputV, onIndex, n, noise);
        double overshoot = Math.max(0, top.valueV() - last);
        double fallBack = 0;
        boolean reached = false;
        int lastOutside = onIndex - 1;
        for (int i = onIndex; i < n; i++) {
            double v = outputV[i];
            boolean inside = v >= lowV && v <= highV;
            lastOutside = inside ? lastOutside : i;
            reached |= inside;
            highest = Math.max(highest, v);
            fallBack = reached ? fallBack : Math.max(fallBack, highest - v);
        }
        if (lastOutside == n - 1) {
            return new Rise(last, OptionalDouble.empty(), 0, overshoot, top.standardUV(), fallBack);
        }
        if (lastOutside < onIndex) {
            double spacingS = 1 / (rateHz * Math.sqrt(12));
            return new Rise(last, OptionalDouble.of(0), spacingS, overshoot, top.standardUV(), fallBack);
        }
        double level = outputV[lastOutside] < lowV ? lowV : highV;
        Crossing in = Crossing.after(outputV, rateHz, lastOutside, level, onIndex);
        return new Rise(
                last,
                OptionalDouble.of(Math.max(0, in.atS())),
                in.standardUS(levelUV, rateHz),
                overshoot,
                top.standardUV(),
                fallBack);
    }
}
