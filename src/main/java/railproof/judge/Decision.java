package railproof.judge;

import railproof.profile.Band;
import railproof.profile.DecisionRule;

/**
 * One value against one limit under one decision rule of ILAC-G8:09/2019, section 4.2; the guard band is w = U.
 *
 * <p>The document's zones are closed and meet at TL − w, TL and TL + w; a value exactly there gets the milder verdict.
 * A two-sided limit is applied at both ends. Where the guard bands leave no acceptance zone nothing can pass; then the
 * value is not judged, unless the whole of value ± U lies outside the limit: that is a fail whatever the zone.
 *
 * <p>Thread: pure; any.
 */
public final class Decision {
    /** Of the largest number involved: rounding in doubles must not decide at the end of a zone. */
    private static final double ROUNDING = 1e-12;

    private Decision() {}

    /**
     * Decides.
     *
     * @param value finite, in the limit's unit
     * @param expandedU expanded uncertainty U of the value, zero or more
     * @param limit allowed values, ends included
     * @param neverNegative whether the quantity is zero or more by nature: then an upper limit alone has a zone of that
     *     width, not an endless one
     * @param rule the decision rule
     */
    public static Verdict decide(double value, double expandedU, Band limit, boolean neverNegative, DecisionRule rule) {
        if (!Double.isFinite(value) || !(expandedU >= 0)) {
            throw new IllegalArgumentException("cannot judge " + value + " with U = " + expandedU);
        }
        double guard = rule == DecisionRule.SIMPLE_ACCEPTANCE ? 0 : expandedU;
        double rounding = ROUNDING * Math.max(Math.max(finite(limit.low()), finite(limit.high())), guard);
        double outside = outside(value, limit);
        if (guard > 0 && !leavesRoom(limit, guard + rounding, neverNegative)) {
            return outside > guard + rounding ? Verdict.FAIL : Verdict.NOT_JUDGED;
        }
        if (outside <= rounding - guard) {
            return Verdict.PASS;
        }
        if (rule != DecisionRule.NON_BINARY) {
            return Verdict.FAIL;
        }
        if (outside <= rounding) {
            return Verdict.CONDITIONAL_PASS;
        }
        return outside <= guard + rounding ? Verdict.CONDITIONAL_FAIL : Verdict.FAIL;
    }

    /** How far outside the nearer end, in the limit's unit; negative inside. */
    static double outside(double value, Band limit) {
        return Math.max(limit.low() - value, value - limit.high());
    }

    private static boolean leavesRoom(Band limit, double guard, boolean neverNegative) {
        double low = neverNegative && Double.isInfinite(limit.low()) ? -guard : limit.low();
        return limit.high() - low > 2 * guard;
    }

    private static double finite(double end) {
        return Double.isInfinite(end) ? 0 : Math.abs(end);
    }
}
