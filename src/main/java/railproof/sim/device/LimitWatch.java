package railproof.sim.device;

/**
 * Limits the simulated board trips on, looked at in fixed steps of time while it is armed.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class LimitWatch {
    static final long PERIOD_US = 500;
    private static final long PERIOD_NS = PERIOD_US * 1000;
    /** Nothing new can be seen of inputs that repeat themselves, so they are looked at less often. */
    private static final long REPEATING_PERIODS = 200;

    private static final class Limit {
        private boolean enabled;
        private int low = Short.MIN_VALUE;
        private int high = Short.MAX_VALUE;
        private long delayUs;
        private long brokenSinceNs = SafetyCore.NEVER;
    }

    private final FrontEnd front;
    private final SafetyCore core;
    private final Limit[] limits;
    private long nextNs;

    LimitWatch(FrontEnd front, SafetyCore core, int channels) {
        this.front = front;
        this.core = core;
        limits = new Limit[channels];
        for (int c = 0; c < channels; c++) {
            limits[c] = new Limit();
        }
    }

    /** Sets a limit; returns the delay in force, µs. */
    long set(int channel, boolean enabled, int low, int high, long delayUs) {
        Limit limit = limits[channel];
        limit.enabled = enabled;
        limit.low = low;
        limit.high = high;
        limit.delayUs = (delayUs + PERIOD_US - 1) / PERIOD_US * PERIOD_US;
        limit.brokenSinceNs = SafetyCore.NEVER;
        return limit.delayUs;
    }

    /** A reset: no limits, as after power-on. */
    void restart() {
        for (int c = 0; c < limits.length; c++) {
            limits[c] = new Limit();
        }
    }

    private boolean energised() {
        return core.state() == SafetyCore.ARMED || core.state() == SafetyCore.ACTIVE;
    }

    private boolean watching() {
        if (!energised()) {
            return false;
        }
        for (Limit limit : limits) {
            if (limit.enabled) {
                return true;
            }
        }
        return false;
    }

    /** The next look. */
    long nextNs(long nowNs) {
        if (!watching()) {
            return SafetyCore.NEVER;
        }
        boolean awake = nextNs > nowNs + PERIOD_NS && !front.repeating();
        if (nextNs <= nowNs || awake) {
            nextNs = nowNs - nowNs % PERIOD_NS + PERIOD_NS;
        }
        return nextNs;
    }

    /** Looks, if it is time. */
    void advance(long nowNs) {
        if (nowNs < nextNs || !watching()) {
            return;
        }
        nextNs = nowNs + (front.repeating() ? REPEATING_PERIODS : 1) * PERIOD_NS;
        front.advanceTo(nowNs);
        for (int c = 0; c < limits.length && energised(); c++) { // one that trips ends the looking
            if (limits[c].enabled) {
                look(limits[c], c, nowNs);
            }
        }
    }

    private void look(Limit limit, int channel, long nowNs) {
        int code = front.watch(channel);
        if (code >= limit.low && code <= limit.high) {
            limit.brokenSinceNs = SafetyCore.NEVER;
            return;
        }
        if (limit.brokenSinceNs == SafetyCore.NEVER) {
            limit.brokenSinceNs = nowNs;
        }
        if (nowNs - limit.brokenSinceNs >= limit.delayUs * 1000) {
            core.trip(code > limit.high ? SafetyCore.LIMIT_HIGH : SafetyCore.LIMIT_LOW, channel, code, nowNs);
        }
    }
}
