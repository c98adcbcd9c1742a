package railproof.diagnosis;

/** A junction in series with a resistance. Pure. */
final class SeriesDiode {
    private static final int ROUNDS = 6;
    private static final double CLOSE_V = 1e-3;

    private SeriesDiode() {}

    /**
     * Solves i R + n V_T ln(1 + i / I_S) = v for i; 0 below zero volts.
     *
     * @param slopeV n V_T, of all junctions in the path together, V
     * @param guessA where to start, A
     */
    static double currentA(double voltageV, double seriesOhm, double slopeV, double saturationA, double guessA) {
        if (voltageV <= 0) {
            return 0;
        }
        double current = Math.max(guessA, 1e-9);
        for (int i = 0; i < ROUNDS; i++) {
            double over = 1 + current / saturationA;
            double missV = current * seriesOhm + slopeV * Math.log(over) - voltageV;
            double next = current - missV / (seriesOhm + slopeV / (saturationA * over));
            // concave: from above the root Newton may overshoot below zero
            current = next > 0 ? next : 0.1 * current;
            if (Math.abs(missV) < CLOSE_V) {
                break;
            }
        }
        return current;
    }
}
