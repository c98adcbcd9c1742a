package railproof.judge;

/** Coverage factors for a level of confidence of about 95 %, chosen so that k is 2.00 with infinite freedom. */
final class Coverage95 {
    // JCGM 100:2008 (GUM) table G.2, column 95.45 %: Student's t; from memory, recomputed in the test
    private static final int[] DEGREES = {
        1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 25, 30, 35, 40, 45, 50, 100
    };
    private static final double[] FACTORS = {
        13.97, 4.53, 3.31, 2.87, 2.65, 2.52, 2.43, 2.37, 2.32, 2.28, 2.25, 2.23, 2.21, 2.20, 2.18, 2.17, 2.16, 2.15,
        2.14, 2.13, 2.11, 2.09, 2.07, 2.06, 2.06, 2.05, 2.025
    };
    // so many that t and the normal distribution agree to all digits printed
    private static final int PRACTICALLY_INFINITE = 10_000;

    private Coverage95() {}

    /** k for the degrees of freedom; between two entries of the table the lower one is taken, as GUM G.4.1 does. */
    static double factor(double degreesOfFreedom) {
        if (degreesOfFreedom >= PRACTICALLY_INFINITE) {
            return 2.0;
        }
        int entry = 0;
        while (entry + 1 < DEGREES.length && DEGREES[entry + 1] <= degreesOfFreedom) {
            entry++;
        }
        return FACTORS[entry];
    }

    /** Welch and Satterthwaite (GUM G.2b) for the sum or difference of two independent values. */
    static double pooledDof(double firstU, double firstDof, double secondU, double secondDof) {
        double variance = firstU * firstU + secondU * secondU;
        double parts = part(firstU, variance, firstDof) + part(secondU, variance, secondDof);
        // rounding must not take it below what Measured allows
        return parts == 0 ? Double.POSITIVE_INFINITY : Math.max(1, 1 / parts);
    }

    private static double part(double u, double variance, double dof) {
        if (u == 0 || Double.isInfinite(dof)) {
            return 0;
        }
        double share = u * u / variance;
        return share * share / dof;
    }
}
