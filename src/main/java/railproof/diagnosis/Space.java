package railproof.diagnosis;

/**
 * Readings into the space in which they are compared, and back. Levels go in relative to the nominal output, ripple and
 * currents by their logarithm, so that one covariance fits small and large.
 *
 * @param nominalV magnitude of the nominal output, V
 * @param ratedA rated current, A
 */
record Space(double nominalV, double ratedA) {
    private static final double OUTPUT_FLOOR_RATIO = 2e-4;
    private static final double RAW_FLOOR_RATIO = 5e-3;
    private static final double SLOPE_FLOOR_RATIO = 0.3;
    private static final double CURRENT_FLOOR_RATIO = 0.02;

    double compared(Feature feature, double value) {
        return switch (feature.sight().scale()) {
            case LEVEL -> value / nominalV;
            case OFFSET, RATIO -> value;
            default -> Math.log(Math.max(0, value) + floor(feature));
        };
    }

    /** The reading that is compared as that number. */
    double natural(Feature feature, double compared) {
        return switch (feature.sight().scale()) {
            case LEVEL -> compared * nominalV;
            case OFFSET, RATIO -> compared;
            default -> Math.max(0, Math.exp(compared) - floor(feature));
        };
    }

    /** A standard uncertainty in that space. */
    double comparedU(Feature feature, double value, double u) {
        return switch (feature.sight().scale()) {
            case LEVEL -> u / nominalV;
            case OFFSET, RATIO -> u;
            default -> u / (Math.max(0, value) + floor(feature));
        };
    }

    private double floor(Feature feature) {
        return switch (feature.sight().scale()) {
            case OUTPUT_RIPPLE -> OUTPUT_FLOOR_RATIO * nominalV;
            case RAW_RIPPLE -> RAW_FLOOR_RATIO * nominalV;
            case SLOPE -> SLOPE_FLOOR_RATIO * nominalV;
            default -> CURRENT_FLOOR_RATIO * ratedA;
        };
    }
}
