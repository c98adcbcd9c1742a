package railproof.signal;

import java.util.Arrays;
import java.util.OptionalDouble;

/**
 * The output after a load step or turn-on: how far it went and when it was back for good. The band lies about the final
 * value: with any output resistance the level after the step is not the one before. The way from the level before to the
 * final one is no excursion: on the side it came from, the output counts only once it has reached the final value, or has
 * gone farther from it than twice the way: a level that comes back a hair higher must not hide a dip.
 *
 * <p>Thread: immutable; any.
 *
 * @param beforeV level before the step (median), V
 * @param finalV level at the end of the record (mean of the middle half of about its last fifth), V
 * @param dipV largest excursion below the final value after the step, V, zero or more
 * @param overshootV largest excursion above it, V, zero or more
 * @param dipU standard uncertainty of the dip from noise and sampling, V ({@link Peak})
 * @param overshootU the overshoot's
 * @param recoveryS time from the step until the output entered the band and stayed; empty if it never stayed
 * @param slopeVPerS how steeply it entered the band, V/s: what an error of the band costs in time; 0 if it did not
 * @param entryNoiseUV what the samples' noise leaves unknown of the level there, V
 */
public record Transient(
        double beforeV,
        double finalV,
        double dipV,
        double overshootV,
        double dipU,
        double overshootU,
        OptionalDouble recoveryS,
        double slopeVPerS,
        double entryNoiseUV) {
    /** So many times the way from the level before to the final one is no part of that way. */
    private static final double FARTHER_RATIO = 2;

    /**
     * Reads a record.
     *
     * @param samplesV output, V, oldest first
     * @param rateHz samples per second, Hz
     * @param stepIndex first sample at or after the step; at least 1, with at least ten samples after it
     * @param bandV half-width of the band about the final value, V, above zero
     */
    public static Transient of(double[] samplesV, double rateHz, int stepIndex, double bandV) {
        return of(samplesV, rateHz, stepIndex, bandV, 0);
    }

    /**
     * The same where the line is known, so that the final value is free of ripple.
     *
     * @param cycleSamples samples in one line cycle; 0 if not known
     */
    public static Transient of(double[] samplesV, double rateHz, int stepIndex, double bandV, double cycleSamples) {
        Samples.requirePositive("sample rate", rateHz);
        Samples.requirePositive("band", bandV);
        Samples.require(samplesV, stepIndex + 10);
        if (stepIndex < 1) {
            throw new IllegalArgumentException("the record needs samples before the step");
        }
        int n = samplesV.length;
        double before = Samples.median(Arrays.copyOf(samplesV, stepIndex));
        double last = Samples.finalLevel(samplesV, stepIndex, cycleSamples);
        double noise = Samples.noiseSd(samplesV, n - Math.max(8, (n - stepIndex) / 5), n);
        double[] above = new double[n];
        double[] below = new double[n];
        double[] away = new double[n];
        double cameFrom = Math.signum(before - last);
        int arrived = n;
        int lastOutside = stepIndex - 1;
        for (int i = stepIndex; i < n; i++) {
            double off = samplesV[i] - last;
            above[i] = off;
            below[i] = -off;
            away[i] = Math.abs(off);
            boolean onTheWay = off * cameFrom > 0 && away[i] <= FARTHER_RATIO * Math.abs(before - last);
            arrived = onTheWay ? arrived : Math.min(arrived, i);
            lastOutside = away[i] > bandV ? i : lastOutside;
        }
        Peak dip = peak(below, cameFrom > 0 ? stepIndex : arrived, noise);
        Peak over = peak(above, cameFrom < 0 ? stepIndex : arrived, noise);
        OptionalDouble recoveryS = OptionalDouble.empty();
        double slope = 0;
        double entryNoise = 0;
        if (lastOutside < stepIndex) {
            recoveryS = OptionalDouble.of(0);
        } else if (lastOutside < n - 1) {
            Crossing in = Crossing.after(away, rateHz, lastOutside, bandV, stepIndex);
            recoveryS = OptionalDouble.of(Math.max(0, in.atS()));
            slope = in.slopeVPerS();
            entryNoise = in.noiseUV();
        }
        return new Transient(
                before,
                last,
                dip.valueV(),
                over.valueV(),
                dip.standardUV(),
                over.standardUV(),
                recoveryS,
                slope,
                entryNoise);
    }

    /** Of the excursions from a sample on; none is no excursion. */
    private static Peak peak(double[] excursions, int from, double noise) {
        if (from >= excursions.length) {
            return new Peak(0, noise);
        }
        Peak peak = Peak.of(excursions, from, excursions.length, noise);
        return new Peak(Math.max(0, peak.valueV()), peak.standardUV());
    }

    /** Overshoot as a share of the step from the level before to the final one (turn-on). */
    public double overshootRatio() {
        double step = finalV - beforeV;
        Samples.requirePositive("magnitude of the step", Math.abs(step));
        return (step > 0 ? overshootV : dipV) / Math.abs(step);
    }
}
