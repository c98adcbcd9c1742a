package railproof.sim.supply;

/**
 * Knows when the rectifiers of a unit turn on next, so that long steps between two charging pulses can end there: the
 * winding's voltage is known ahead, and the reservoir goes down nearly straight until then.
 */
final class RectifierWatch {
    /** So near below the voltage that turns it on, a rectifier may turn on at once, V. */
    private static final double DUE_V = -0.01;

    /** The winding is looked at so often in a cycle: more than once in the narrowest pulse that matters. */
    private static final double LOOKS_PER_CYCLE_DIMENSIONLESS = 32;

    private static final double CLOSE_ENOUGH_S = 1e-6;
    /** A winding no further below what turns its rectifier on is the one that was meant to turn it on now, V. */
    private static final double TURNING_ON_V = -0.05;

    /** With fewer past states their polynomial is no guide to a diode's voltage. */
    private static final int STATES_ENOUGH = 3;

    private final UnitDesign design;
    private final Mains mains;
    private final RailNetwork[] networks;
    private final RailHistory[] histories;
    private final StepTimes times;

    RectifierWatch(UnitDesign design, Mains mains, RailNetwork[] networks, RailHistory[] histories, StepTimes times) {
        this.design = design;
        this.mains = mains;
        this.networks = networks;
        this.histories = histories;
        this.times = times;
    }

    /** How far the furthest rail is at the newest instant. */
    Charging charging() {
        Charging furthest = Charging.AT_REST;
        for (int rail = 0; rail < networks.length; rail++) {
            Charging each = charging(rail);
            furthest = each.compareTo(furthest) > 0 ? each : furthest;
        }
        return furthest;
    }

    private Charging charging(int rail) {
        if (networks[rail].conducts(histories[rail].at(0))) {
            return Charging.UNDER_WAY;
        }
        double nowS = times.newestS();
        return excessV(rail, nowS, 0) > DUE_V ? Charging.DUE : Charging.AT_REST;
    }

    /** The first instant up to another at which a rail at rest turns on, s; infinite if none does. */
    double turnOnS(double reachS) {
        double firstS = Double.POSITIVE_INFINITY;
        for (int rail = 0; rail < networks.length; rail++) {
            if (charging(rail) == Charging.AT_REST) {
                firstS = Math.min(firstS, turnOnS(rail, Math.min(reachS, firstS)));
            }
        }
        return firstS;
    }

    private double turnOnS(int rail, double reachS) {
        if (mains.rmsV() == 0) {
            return Double.POSITIVE_INFINITY;
        }
        double[] nowV = histories[rail].at(0);
        double fallVPerS = 0;
        if (times.usable() >= 2) {
            double pastV = histories[rail].at(1)[RailNetwork.RAW];
            fallVPerS = (pastV - nowV[RailNetwork.RAW]) / (times.newestS() - times.previousS());
        }
        double lookS = 1 / (LOOKS_PER_CYCLE_DIMENSIONLESS * mains.frequencyHz());
        double beforeS = times.newestS();
        while (beforeS < reachS) {
            double afterS = Math.min(beforeS + lookS, reachS);
            if (excessV(rail, afterS, fallVPerS) >= 0) {
                return between(rail, fallVPerS, beforeS, afterS);
            }
            beforeS = afterS;
        }
        return Double.POSITIVE_INFINITY;
    }

    /** Halves an interval in which the winding rises above what turns the rectifier on. */
    private double between(int rail, double fallVPerS, double restS, double onS) {
        double beforeS = restS;
        double afterS = onS;
        while (afterS - beforeS > CLOSE_ENOUGH_S) {
            double middleS = 0.5 * (beforeS + afterS);
            if (excessV(rail, middleS, fallVPerS) >= 0) {
                afterS = middleS;
            } else {
                beforeS = middleS;
            }
        }
        return afterS;
    }

    /** Whether a rectifier turns on in the step being tried. */
    boolean turnsOn() {
        for (int rail = 0; rail < networks.length; rail++) {
            if (networks[rail].turnsOn(histories[rail].at(0), histories[rail].candidate())) {
                return true;
            }
        }
        return false;
    }

    /**
     * Lets a rectifier start from what its winding leaves it where that is known: one rail draws all there is drawn, or no
     * resistance lies before the core. Otherwise its own past is the better guide, as soon as there is enough of it.
     *
     * @param turnOn whether the step being tried ends where a rectifier turns on
     */
    void start(int rail, double lineV, boolean turnOn) {
        boolean known = networks.length == 1 || design.primaryOhm() == 0;
        if (known || times.usable() < STATES_ENOUGH || turnOn) {
            double[] candidateV = histories[rail].candidate();
            if (networks[rail].excessV(lineV, candidateV[RailNetwork.RAW]) > (turnOn ? TURNING_ON_V : 0)) {
                networks[rail].start(candidateV, lineV, design.primaryOhm());
            }
        }
    }

    private double excessV(int rail, double atS, double fallVPerS) {
        double rawV = histories[rail].at(0)[RailNetwork.RAW] - fallVPerS * (atS - times.newestS());
        return networks[rail].excessV(mains.valueV(atS), rawV);
    }
}
