package railproof.signal;

import java.util.Arrays;
import java.util.OptionalDouble;

/**
 * The output after a load step or turn-on: how far it went and when it was back for good. The band lies about the final
 * value: with any output resistance the level after the step is not the one before. The way from the level before to the
 * final one is no excursion: on the side it came from, the output counts only once it has reached the final value.
 *
 * <p>Thread: immutable; any.
 *
 * @param beforeV level before the step (median), V
 * @param finalV level at the end of the record (median of its last fifth), V
 * @param dipV largest excursion below the final value after the step, V, zero or more
 * @param overshootV largest excursion above it, V, zero or more
 * @param recoveryS time from the step until the output entered the band and stayed; empty if it never stayed
 */
public record Transient(double beforeV, double finalV, double dipV, double overshootV, OptionalDouble recoveryS) {
    /**
     * Reads a record.
     *
     * @param samplesV output, V, oldest first
     * @param rateHz samples per second, Hz
     * @param stepIndex first sample at or after the step; at least 1, with at least ten samples after it
     * @param bandV half-width of the band about the final value, V, above zero
     */
    public static Transient of(double[] samplesV, double rateHz, int stepIndex, double bandV) {
        Samples.requirePositive("sample rate", rateHz);
        Samples.requirePositive("band", bandV);
        Samples.require(samplesV, stepIndex + 10);
        if (stepIndex < 1) {
            throw new IllegalArgumentException("the record needs samples before the step");
        }
        int n = samplesV.length;
        double before = Samples.median(Arrays.copyOf(samplesV, stepIndex));
        double last = Samples.median(Arrays.copyOfRange(samplesV, n - Math.max(2, (n - stepIndex) / 5), n));
        double dip = 0;
        double over = 0;
        double cameFrom = Math.signum(before - last);
        boolean arrived = false;
        int lastOutside = stepIndex - 1;
        for (int i = stepIndex; i < n; i++) {
            double off = samplesV[i] - last;
            arrived |= off * cameFrom <= 0;
            dip = arrived || cameFrom > 0 ? Math.max(dip, -off) : dip;
            over = arrived || cameFrom < 0 ? Math.max(over, off) : over;
            lastOutside = Math.abs(off) > bandV ? i : lastOutside;
        }
        if (lastOutside == n - 1) {
            return new Transient(before, last, dip, over, OptionalDouble.empty());
        }
        double back = lastOutside < stepIndex ? 0 : crossing(samplesV, lastOutside, last, bandV) - stepIndex;
        return new Transient(before, last, dip, over, OptionalDouble.of(Math.max(0, back) / rateHz));
    }

    /** Overshoot as a share of the step from the level before to the final one (turn-on). */
    public double overshootRatio() {
        double step = finalV - beforeV;
        Samples.requirePositive("magnitude of the step", Math.abs(step));
        return (step > 0 ? overshootV : dipV) / Math.abs(step);
    }

    /** Where the straight line from the last sample outside to the next one enters the band. */
    private static double crossing(double[] y, int outside, double last, double bandV) {
        double a = Math.abs(y[outside] - last);
        double b = Math.abs(y[outside + 1] - last);
        return a > b ? outside + (a - bandV) / (a - b) : outside + 1;
    }
}
