package railproof.signal;

import java.util.OptionalInt;

/**
 * Where an output begins to answer a step, when only the output was recorded: the first sample that differs from what
 * the ripple did one line cycle before by more than noise, or if none does within a cycle, the first outside everything
 * it did before, widened by half of that.
 *
 * <p>Thread: pure; any.
 */
public final class StepOnset {
    private static final double WIDER_RATIO = 0.5;
    /** A line that is not known to better than this many samples over one cycle. */
    private static final int ASIDE = 2;
    /** So far beyond what was there a cycle before, in standard deviations of the noise. */
    private static final double CLEAR = 4;
    /** And in parts of the ripple: no two cycles are alike. */
    private static final double ALIKE_RATIO = 0.02;

    private StepOnset() {}

    /**
     * Looks for it.
     *
     * @param samplesV output, V, oldest first
     * @param quiet samples at the beginning during which nothing was changed; more than one line cycle
     * @param cycleSamples samples in one line cycle
     * @return the index of the first sample that answers; empty if the step does not show
     */
    public static OptionalInt index(double[] samplesV, int quiet, double cycleSamples) {
        int cycle = (int) Math.round(cycleSamples);
        if (cycle < ASIDE + 1 || quiet < cycle + 2 * ASIDE) {
            return index(samplesV, quiet);
        }
        Samples.require(samplesV, quiet + 1);
        double spanV = Samples.extent(samplesV, 0, quiet).span();
        double margin = Math.max(CLEAR * Samples.noiseSd(samplesV, 0, quiet), ALIKE_RATIO * spanV);
        int end = Math.min(samplesV.length, quiet + cycle - ASIDE);
        for (int i = quiet; i < end; i++) {
            Samples.Extent before = Samples.extent(samplesV, i - cycle - ASIDE, i - cycle + ASIDE + 1);
            if (samplesV[i] > before.high() + margin || samplesV[i] < before.low() - margin) {
                return OptionalInt.of(i);
            }
        }
        return index(samplesV, quiet);
    }

    /**
     * How long the answer may have been under way unseen before its first sample, in samples: one, and as long as it needs
     * to get clear of the noise at the pace it has there.
     *
     * @param samplesV output, V, oldest first
     * @param quiet samples at the beginning during which nothing was changed
     * @param onset first sample that answers; one sample before and after it
     * @return one to two
     */
    public static double hiddenSamples(double[] samplesV, int quiet, int onset) {
        Samples.require(samplesV, onset + 2);
        double paceV = Math.max(
                Math.abs(samplesV[onset + 1] - samplesV[onset]), Math.abs(samplesV[onset] - samplesV[onset - 1]));
        double marginV = CLEAR * Samples.noiseSd(samplesV, 0, quiet);
        return marginV > 0 ? 1 + marginV / Math.max(paceV, marginV) : 1;
    }

    /**
     * The same where nothing is known of the line.
     *
     * @param samplesV output, V, oldest first
     * @param quiet samples at the beginning during which nothing was changed; at least one cycle of the ripple
     * @return the index of the first sample that answers; empty if the step does not show
     */
    public static OptionalInt index(double[] samplesV, int quiet) {
        Samples.require(samplesV, quiet + 1);
        if (quiet < 2) {
            throw new IllegalArgumentException("the onset needs quiet samples before it, got " + quiet);
        }
        Samples.Extent before = Samples.extent(samplesV, 0, quiet);
        double margin = WIDER_RATIO * before.span();
        for (int i = quiet; i < samplesV.length; i++) {
            if (samplesV[i] < before.low() - margin || samplesV[i] > before.high() + margin) {
                return OptionalInt.of(i);
            }
        }
        return OptionalInt.empty();
    }
}
