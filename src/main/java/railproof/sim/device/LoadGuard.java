package railproof.sim.device;

/**
 * The load's own protections: over-voltage at once, over-current and over-power after a delay, over-temperature of the
 * heat sink. A trip latches until cleared. Thread: confined.
 */
final class LoadGuard {
    /** Bits of the questionable status register. */
    static final int VOLTAGE = 1;

    static final int CURRENT = 1 << 1;
    static final int POWER = 1 << 3;
    static final int TEMPERATURE = 1 << 4;

    /** Not in the standard: the host was silent for longer than it promised. */
    static final int HOST_SILENT = 1 << 10;

    private static final double AMBIENT_C = 25;
    private static final double TRIP_C = 90;
    private static final double RELEASE_C = 80;
    private static final double HEAT_S = 60;
    private static final double MARGIN_RATIO = 1.05;

    private final LoadRatings ratings;
    private final double sinkCPerW;
    private double currentA;
    private double voltageV;
    private double powerW;
    private double overCurrentS;
    private double overPowerS;
    private double sinkC = AMBIENT_C;
    private int tripped;

    LoadGuard(LoadRatings ratings) {
        this.ratings = ratings;
        // rated power for ever warms the sink to 85 °C, half as much again trips it
        this.sinkCPerW = 60 / ratings.maxW();
        reset();
    }

    void reset() {
        currentA = MARGIN_RATIO * ratings.maxA();
        voltageV = MARGIN_RATIO * ratings.maxV();
        powerW = MARGIN_RATIO * ratings.maxW();
        overCurrentS = 0;
        overPowerS = 0;
        tripped = 0;
    }

    ScpiParameters.Range currentRange() {
        return new ScpiParameters.Range(0, MARGIN_RATIO * ratings.maxA(), "A");
    }

    ScpiParameters.Range voltageRange() {
        return new ScpiParameters.Range(0, MARGIN_RATIO * ratings.maxV(), "V");
    }

    ScpiParameters.Range powerRange() {
        return new ScpiParameters.Range(0, MARGIN_RATIO * ratings.maxW(), "W");
    }

    void currentA(double levelA) {
        currentA = levelA;
    }

    void voltageV(double levelV) {
        voltageV = levelV;
    }

    void powerW(double levelW) {
        powerW = levelW;
    }

    double currentA() {
        return currentA;
    }

    double voltageV() {
        return voltageV;
    }

    double powerW() {
        return powerW;
    }

    double sinkC() {
        return sinkC;
    }

    int tripped() {
        return tripped;
    }

    /** Clears what has tripped, except a sink still hot. */
    void clear() {
        tripped = (tripped & TEMPERATURE) != 0 && sinkC > RELEASE_C ? TEMPERATURE : 0;
        overCurrentS = 0;
        overPowerS = 0;
    }

    /** Time passes with the last seen power in the load. */
    void warm(double durationS, double dissipatedW) {
        double endC = AMBIENT_C + dissipatedW * sinkCPerW;
        sinkC = endC - (endC - sinkC) * Math.exp(-durationS / HEAT_S);
    }

    /**
     * Looks at the terminals.
     *
     * @param sinceS time since the last look, s, during which an excess is taken to have lasted if it is still there
     * @return bits that tripped now
     */
    int look(double terminalV, double sunkA, double sinceS) {
        int now = terminalV > voltageV ? VOLTAGE : 0;
        overCurrentS = sunkA > currentA ? overCurrentS + sinceS : 0;
        overPowerS = terminalV * sunkA > powerW ? overPowerS + sinceS : 0;
        now |= overCurrentS > ratings.protectionDelayS() ? CURRENT : 0;
        now |= overPowerS > ratings.protectionDelayS() ? POWER : 0;
        now |= sinkC > TRIP_C ? TEMPERATURE : 0;
        return trip(now);
    }

    int trip(int bits) {
        int fresh = bits & ~tripped;
        tripped |= bits;
        return fresh;
    }
}
