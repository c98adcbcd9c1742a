package railproof.diagnosis;

/**
 * What differs between sound units beside the parts a profile lists; half widths (common practice, no source, where
 * nothing else is said).
 */
enum Spread {
    /** Base-emitter voltage of the pass transistor, V; also its temperature, at −2 mV/K (from memory). */
    PASS_VBE(0.05),
    /** The same of the driver, V. */
    DRIVER_VBE(0.04),
    /** The same of the error transistor, V. */
    ERROR_VBE(0.025),
    /** The same of the limit transistor, V. */
    LIMIT_VBE(0.03),
    /** Forward drop of a rectifier diode, V. */
    DIODE_DROP(0.1),
    /**
     * Inequality of the halves of a centre-tapped winding; a circuit simulation of 1 to 5 % gives V1/V2 0.17 to 0.87. Which
     * half gives more nobody sees, so it runs from none to twice the middle.
     */
    MISMATCH(0.0175),
    /** Early voltage of the transistors, natural logarithm of the factor. */
    EARLY(0.5),
    /** Deviation after a load step, natural logarithm of the factor: the model only guesses the loop's speed. */
    STEP(0.6),
    /** Noise, natural logarithm of the factor. */
    NOISE(0.6);

    private final double halfWidthDimensionless;

    Spread(double halfWidthDimensionless) {
        this.halfWidthDimensionless = halfWidthDimensionless;
    }

    double halfWidth() {
        return halfWidthDimensionless;
    }
}
