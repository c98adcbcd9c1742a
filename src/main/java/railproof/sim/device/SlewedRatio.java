package railproof.sim.device;

/**
 * A setpoint on its way: follows its target with a first-order lag whose rate is limited. Far away it runs at the slew
 * rate, near by it settles exponentially; both parts are integrated exactly, so the result does not depend on the steps
 * time is cut into. Thread: confined.
 */
final class SlewedRatio {
    /** This near its target a setpoint has arrived: far below what any load resolves. */
    private static final double ARRIVED_RATIO = 1e-9;

    private final double slewRatioPerS;
    private final double lagS;
    private double valueRatio;

    /**
     * A setpoint at zero.
     *
     * @param fullScaleS time from zero to full scale at the slew rate, s; greater than zero
     * @param lagS time constant of settling, s; greater than zero
     */
    SlewedRatio(double fullScaleS, double lagS) {
        this.slewRatioPerS = 1 / fullScaleS;
        this.lagS = lagS;
    }

    double valueRatio() {
        return valueRatio;
    }

    void jumpTo(double ratio) {
        valueRatio = ratio;
    }

    void advance(double durationS, double targetRatio) {
        double errorRatio = targetRatio - valueRatio;
        double fastS = Math.max(0, Math.abs(errorRatio) / slewRatioPerS - lagS);
        double runS = Math.min(fastS, durationS);
        valueRatio += Math.signum(errorRatio) * slewRatioPerS * runS;
        if (durationS > fastS) {
            double leftRatio = (targetRatio - valueRatio) * Math.exp(-(durationS - fastS) / lagS);
            valueRatio = Math.abs(leftRatio) < ARRIVED_RATIO ? targetRatio : targetRatio - leftRatio;
        }
    }
}
