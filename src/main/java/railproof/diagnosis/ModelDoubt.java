package railproof.diagnosis;

/** What the model is not sure of, beside tolerances and severity: generic devices stand for the real ones. Pure. */
final class ModelDoubt {
    private static final double FAR_RATIO = 0.12;
    private static final double COLLAPSED_BASE_U = 0.12;
    /** A sink may still be warm from before. */
    private static final double COLLAPSED_SINK_U = 20;

    private static final double COLLAPSED_RIPPLE_U = 2;
    private static final double COLLAPSED_CURRENT_U = 0.4;

    private ModelDoubt() {}

    /**
     * Variance of what the model says of a feature, in the space of comparison.
     *
     * @param fromSound how far the feature is from that of a sound unit: the farther, the less sure
     * @param outputFromSound the same of the output under that condition, over its nominal value
     */
    static double variance(Feature feature, double fromSound, double outputFromSound) {
        double modelU = feature.sight().modelU();
        double farU = FAR_RATIO * fromSound;
        double collapsedU = collapsedU(feature.sight()) * Math.min(1, Math.abs(outputFromSound));
        return modelU * modelU + farU * farU + collapsedU * collapsedU;
    }

    /**
     * Once the regulator has lost the output: drops inside transistors that carry what they were not made for (V), and how
     * much current a broken stage still passes (natural logarithm).
     */
    private static double collapsedU(Sight sight) {
        return switch (sight) {
            case BASE -> COLLAPSED_BASE_U;
            case HEAT_SINK -> COLLAPSED_SINK_U;
            case OUTPUT_RIPPLE, OUTPUT_LINE -> COLLAPSED_RIPPLE_U;
            case RAW_RIPPLE, RAW_FALL, LIMIT, SHORT -> COLLAPSED_CURRENT_U;
            default -> 0;
        };
    }
}
