package railproof.diagnosis;

/** How large a sum of squares chance makes. Pure. */
final class ChiSquare {
    /** Quantile of the normal distribution at 99.9 %. */
    private static final double RARE_SIGMAS = 3.09;

    private ChiSquare() {}

    /** The sum of so many squared deviations that one in a thousand exceeds (Wilson and Hilferty's approximation). */
    static double rare(int degrees) {
        double spread = 2.0 / (9 * degrees);
        return degrees * Math.pow(1 - spread + RARE_SIGMAS * Math.sqrt(spread), 3);
    }
}
