package railproof.signal;

import java.util.OptionalInt;

/**
 * Where an output begins to answer a step, when only the output was recorded: the first sample outside everything it
 * did before, widened by half of that.
 *
 * <p>Thread: pure; any.
 */
public final class StepOnset {
    private static final double WIDER_RATIO = 0.5;

    private StepOnset() {}

    /**
     * Looks for it.
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
        double low = samplesV[0];
        double high = samplesV[0];
        for (int i = 1; i < quiet; i++) {
            low = Math.min(low, samplesV[i]);
            high = Math.max(high, samplesV[i]);
        }
        double margin = WIDER_RATIO * (high - low);
        for (int i = quiet; i < samplesV.length; i++) {
            if (samplesV[i] < low - margin || samplesV[i] > high + margin) {
                return OptionalInt.of(i);
            }
        }
        return OptionalInt.empty();
    }
}
