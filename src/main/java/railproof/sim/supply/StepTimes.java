package railproof.sim.supply;

/**
 * The instants of the last steps and the weights that go with them: second-order backward differentiation with
 * variable steps (the first step after a break is backward Euler), polynomial prediction and interpolation.
 */
final class StepTimes {
    private static final int DEPTH = 4;

    private final double[] pastS = new double[DEPTH];
    /** Past states that the derivative may use. */
    private int known = 1;
    /** Past states that a polynomial may use: not the one before a jump, which nodes without a capacitor make. */
    private int smooth = 1;

    /** Weights of the states 0, 1 and 2 steps ago in the last prediction or interpolation. */
    final double[] weightDimensionless = new double[3];

    private double stepS;
    double perS;
    private double firstPerS;
    private double secondPerS;

    double newestS() {
        return pastS[0];
    }

    double previousS() {
        return pastS[1];
    }

    /** How many past states a prediction rests on, 1 to 3. */
    int usable() {
        return Math.min(smooth, 3);
    }

    void accept(double timeS) {
        System.arraycopy(pastS, 0, pastS, 1, DEPTH - 1);
        pastS[0] = timeS;
        smooth = known == 1 ? 1 : Math.min(smooth + 1, DEPTH);
        known = Math.min(known + 1, DEPTH);
    }

    /** Calls the newest instant by another name, a nanosecond away at most. */
    void callNewest(double timeS) {
        pastS[0] = timeS;
    }

    void takeBack() {
        System.arraycopy(pastS, 1, pastS, 0, DEPTH - 1);
        known = Math.max(1, known - 1);
        smooth = Math.max(1, smooth - 1);
    }

    /** Everything known happened later by so much. */
    void skip(double byS) {
        for (int i = 0; i < DEPTH; i++) {
            pastS[i] += byS;
        }
    }

    /** The past before now no longer tells the future. */
    void restart() {
        known = 1;
        smooth = 1;
    }

    /** Something bends here: what was before the last step no longer tells the future. */
    void bend() {
        smooth = Math.min(smooth, 2);
    }

    /** Whether the step being tried begins at a break, from which no rate of change is known. */
    boolean begins() {
        return known < 2;
    }

    /** Length of the step being tried, s. */
    double stepS() {
        return stepS;
    }

    /** Prepares the derivative weights for a step that ends at {@code timeS}. */
    void derivativeAt(double timeS) {
        stepS = timeS - pastS[0];
        if (known < 2) {
            perS = 1 / stepS;
            firstPerS = -1 / stepS;
            secondPerS = 0;
            return;
        }
        double ratio = stepS / (pastS[0] - pastS[1]);
        perS = (1 + 2 * ratio) / ((1 + ratio) * stepS);
        firstPerS = -(1 + ratio) / stepS;
        secondPerS = ratio * ratio / ((1 + ratio) * stepS);
    }

    void history(RailHistory states, double[] intoPerS) {
        double[] first = states.at(0);
        double[] second = states.at(1);
        for (int i = 0; i < intoPerS.length; i++) {
            intoPerS[i] = firstPerS * first[i] + secondPerS * second[i];
        }
    }

    /** Prepares the weights of the polynomial through the usable past states at {@code timeS}. */
    void polynomialAt(double timeS) {
        double a = pastS[0];
        double b = pastS[1];
        double c = pastS[2];
        double[] weight = weightDimensionless;
        weight[0] = 1;
        weight[1] = 0;
        weight[2] = 0;
        if (usable() == 2) {
            weight[0] = (timeS - b) / (a - b);
            weight[1] = 1 - weight[0];
        } else if (usable() == 3) {
            weight[0] = (timeS - b) * (timeS - c) / ((a - b) * (a - c));
            weight[1] = (timeS - a) * (timeS - c) / ((b - a) * (b - c));
            weight[2] = (timeS - a) * (timeS - b) / ((c - a) * (c - b));
        }
    }

    double polynomial(RailHistory states, int index) {
        return weightDimensionless[0] * states.at(0)[index]
                + weightDimensionless[1] * states.at(1)[index]
                + weightDimensionless[2] * states.at(2)[index];
    }

    /** Fills in the polynomial for a whole state. */
    void polynomial(RailHistory states, double[] into) {
        double[] first = states.at(0);
        if (usable() == 1) {
            System.arraycopy(first, 0, into, 0, into.length);
            return;
        }
        double[] second = states.at(1);
        double[] third = states.at(2);
        double a = weightDimensionless[0];
        double b = weightDimensionless[1];
        double c = weightDimensionless[2];
        for (int i = 0; i < into.length; i++) {
            into[i] = a * first[i] + b * second[i] + c * third[i];
        }
    }

    /**
     * Step length against which the next one should be scaled, by the difference between prediction and solution
     * in tolerances: the local error of the method is a fifth of that difference.
     */
    double errorRatio(double differenceInTolerances) {
        return usable() == 3 ? 0.2 * differenceInTolerances : 0.5 * differenceInTolerances;
    }
}
