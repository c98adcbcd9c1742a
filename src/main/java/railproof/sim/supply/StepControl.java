package railproof.sim.supply;

/** How long the next step of the integration may be. */
final class StepControl {
    private static final double FIRST_STEP_S = 1e-7;
    /** Below this a step is taken whatever its local error: nothing asked of this model is faster. */
    private static final double FINE_ENOUGH_S = 2e-6;

    private static final double LONGEST_STEP_S = 5e-3;
    private static final double STEPS_PER_CYCLE_DIMENSIONLESS = 34;
    /** Where the crest begins, against the peak, and how much finer the steps are there. */
    private static final double CREST_RATIO = 0.85;

    private static final double CREST_REFINEMENT_RATIO = 3.5;
    private static final double GROWTH_RATIO = 1.8;

    /** Steps while two capacitors share their charges: fractions of the time constant, and how many of them. */
    private static final double INRUSH_STEP_RATIO = 0.05;

    private static final double SHORTEST_INRUSH_STEP_S = 4e-9;
    private static final int INRUSH_STEPS = 160;

    private double nextS = FIRST_STEP_S;
    private double inrushStepS;
    private double inrushUntilS;

    /** What was before now no longer tells how fast things change. */
    void startAfresh() {
        nextS = FIRST_STEP_S;
    }

    /** From now on charges are shared with a time constant, s. */
    void inrush(double nowS, double timeConstantS) {
        inrushStepS = Math.max(SHORTEST_INRUSH_STEP_S, INRUSH_STEP_RATIO * timeConstantS);
        inrushUntilS = nowS + INRUSH_STEPS * inrushStepS;
    }

    /**
     * Length to try from an instant, s: short about the crest, so that a narrow charging pulse is not stepped over, and
     * while charges are shared.
     */
    double lengthS(double fromS, Mains mains) {
        if (fromS < inrushUntilS) {
            return Math.min(nextS, inrushStepS);
        }
        if (mains.rmsV() == 0) {
            return Math.min(nextS, LONGEST_STEP_S);
        }
        double plainS = 1 / (mains.frequencyHz() * STEPS_PER_CYCLE_DIMENSIONLESS);
        double crestV = CREST_RATIO * mains.peakV();
        boolean crest = Math.abs(mains.valueV(fromS)) > crestV || Math.abs(mains.valueV(fromS + plainS)) > crestV;
        return Math.min(nextS, crest ? plainS / CREST_REFINEMENT_RATIO : plainS);
    }

    /** End of a step that should not pass an instant: on it, or halfway when a stub would be left over. */
    static double landing(double fromS, double stepS, double notBeyondS) {
        double leftS = notBeyondS - fromS;
        if (leftS <= stepS * 1.01) {
            return notBeyondS;
        }
        return leftS < 2 * stepS ? fromS + leftS / 2 : fromS + stepS;
    }

    /** Whether a step with that error, in tolerances, stands. */
    static boolean stands(double takenS, double errorRatio) {
        return errorRatio <= 1 || (takenS < FINE_ENOUGH_S && errorRatio < Double.POSITIVE_INFINITY);
    }

    /** Goes on after a step that stands. */
    void accepted(double takenS, double errorRatio) {
        double growth = Math.min(GROWTH_RATIO, 0.8 / Math.cbrt(Math.max(errorRatio, 1e-6)));
        nextS = Math.max(takenS * growth, Math.min(takenS * GROWTH_RATIO, FINE_ENOUGH_S));
    }

    /** Length to try after a step that does not stand, s. */
    static double shorterS(double takenS, double errorRatio) {
        return takenS * Math.max(0.2, 0.8 / Math.cbrt(errorRatio));
    }
}
