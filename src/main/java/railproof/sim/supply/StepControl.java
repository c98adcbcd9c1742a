package railproof.sim.supply;

/** How long the next step of the integration may be. */
final class StepControl {
    private static final double FIRST_STEP_S = 2e-8;
    /** Below this a step is taken whatever its local error: nothing asked of this model is faster. */
    private static final double FINE_ENOUGH_S = 5e-8;

    /**
     * After a break the regulator answers within microseconds, and how it does is what a load step is made for: the
     * output is followed so much more closely at first, and as usual again after so long.
     */
    private static final double CLOSER_RATIO = 1.0 / 16;

    private static final double CLOSER_FOR_S = 3.2e-3;

    private static final double LONGEST_STEP_S = 5e-3;
    /** Longest steps between two charging pulses, while a reservoir is charged, and first after a rectifier turned on. */
    private static final double RESTING_STEPS_PER_CYCLE_DIMENSIONLESS = 11;

    private static final double CHARGING_STEPS_PER_CYCLE_DIMENSIONLESS = 120;
    private static final double TURNED_ON_STEPS_PER_CYCLE_DIMENSIONLESS = 340;

    private static final double GROWTH_RATIO = 1.8;
    /** With less error than this the next step grows as far as any may. */
    private static final double FULL_GROWTH_ERROR_RATIO = Math.pow(0.8 / GROWTH_RATIO, 3);

    /** Makes the step shorter by the same factor. */
    private static final double TURN_ON_ERROR_RATIO = 10;

    /** Steps while two capacitors share their charges: fractions of the time constant, and how many of them. */
    private static final double INRUSH_STEP_RATIO = 0.05;

    private static final double SHORTEST_INRUSH_STEP_S = 4e-9;
    private static final int INRUSH_STEPS = 160;

    private double nextS = FIRST_STEP_S;
    private double brokenS = Double.NEGATIVE_INFINITY;
    private double inrushStepS;
    private double inrushUntilS;

    /** What was before now no longer tells how fast things change. */
    void startAfresh(double nowS) {
        nextS = FIRST_STEP_S;
        brokenS = nowS;
    }

    /** Tolerance for the output at an instant, as a share of the usual one. */
    double outputRatio(double atS) {
        return Math.min(1, Math.max(CLOSER_RATIO, (atS - brokenS) / CLOSER_FOR_S));
    }

    /** Everything known happened later by so much. */
    void skip(double byS) {
        brokenS += byS;
        inrushUntilS += byS;
    }

    /** From now on charges are shared with a time constant, s. */
    void inrush(double nowS, double timeConstantS) {
        inrushStepS = Math.max(SHORTEST_INRUSH_STEP_S, INRUSH_STEP_RATIO * timeConstantS);
        inrushUntilS = nowS + INRUSH_STEPS * inrushStepS;
    }

    /** Length to try from an instant, s: short while a reservoir is charged, or ought to be, and while charges are shared. */
    double lengthS(double fromS, Mains mains, Charging charging) {
        if (fromS < inrushUntilS) {
            return Math.min(nextS, inrushStepS);
        }
        if (mains.rmsV() == 0) {
            return Math.min(nextS, LONGEST_STEP_S);
        }
        return Math.min(nextS, charging == Charging.AT_REST ? restingS(mains) : chargingS(mains));
    }

    private static double restingS(Mains mains) {
        return 1 / (mains.frequencyHz() * RESTING_STEPS_PER_CYCLE_DIMENSIONLESS);
    }

    private static double chargingS(Mains mains) {
        return 1 / (mains.frequencyHz() * CHARGING_STEPS_PER_CYCLE_DIMENSIONLESS);
    }

    /** A rectifier turns on now: what follows bends much more than what was. */
    void turnedOn(Mains mains) {
        nextS = Math.min(nextS, 1 / (mains.frequencyHz() * TURNED_ON_STEPS_PER_CYCLE_DIMENSIONLESS));
    }

    /**
     * Error to be given to a step in which a rectifier turns on unforeseen, in tolerances: none if the step is as short
     * as while a reservoir is charged. Where in a longer step the current has begun shows nowhere else: the reservoir
     * hardly moves yet.
     */
    static double turnOnErrorRatio(double takenS, Mains mains) {
        return takenS > 1.01 * chargingS(mains) ? TURN_ON_ERROR_RATIO : 0;
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
        double growth = errorRatio < FULL_GROWTH_ERROR_RATIO ? GROWTH_RATIO : 0.8 / Math.cbrt(errorRatio);
        nextS = Math.max(takenS * growth, Math.min(takenS * GROWTH_RATIO, FINE_ENOUGH_S));
    }

    /** Length to try after a step that does not stand, s. */
    static double shorterS(double takenS, double errorRatio) {
        return takenS * Math.max(0.2, 0.8 / Math.cbrt(errorRatio));
    }
}
