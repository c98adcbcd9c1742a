package railproof.judge;

import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.profile.DecisionRule;
import railproof.signal.Conformance;
import railproof.signal.Coverage;

/** One check before its answer: what is asked of which rail, and what is allowed. */
record Question(String id, String title, String rail, Band limit, boolean neverNegative, Unit unit, DecisionRule rule) {
    /** k = 2 where the degrees of freedom are many; the level the decision rules are written for. */
    static final Coverage COVERAGE = Coverage.P95_45;

    Question(Subject subject, String id, String title, Band limit, Unit unit) {
        this(
                id,
                title,
                subject.rail().name(),
                limit,
                false,
                unit,
                subject.profile().rule());
    }

    /** The same for a quantity that is zero or more by nature. */
    Question ofMagnitude() {
        return new Question(id, title, rail, limit, true, unit, rule);
    }

    Question within(Band other) {
        return new Question(id, title, rail, other, neverNegative, unit, rule);
    }

    Verdict verdict(Measured value) {
        return verdict(value, COVERAGE.factor(value));
    }

    private Verdict verdict(Measured value, double k) {
        return Decision.decide(value.value(), k * value.standardU(), limit, neverNegative, rule);
    }

    /** How far the value is outside, guard band included; the larger, the worse. */
    double badness(Measured value) {
        return Decision.outside(value.value(), limit) + COVERAGE.expandedU(value);
    }

    /**
     * The check with its answer.
     *
     * @param doubts reasons why the value does not prove that the limit is kept; they stop a pass, never a fail
     */
    Check answer(Measured value, String detail, List<String> doubts) {
        return answer(value, COVERAGE.factor(value), detail, doubts);
    }

    /** The same with a coverage factor of its own, for values that are not near normally distributed. */
    Check answer(Measured value, double k, String detail, List<String> doubts) {
        Verdict verdict = verdict(value, k);
        if (!doubts.isEmpty() && verdict.compareTo(Verdict.CONDITIONAL_PASS) <= 0) {
            verdict = Verdict.NOT_JUDGED;
        }
        return check(value, k, verdict, detail, doubts);
    }

    /** The check with an answer that follows from more than the number. */
    Check check(Measured value, double k, Verdict verdict, String detail, List<String> doubts) {
        double u = k * value.standardU();
        StringBuilder words = new StringBuilder(detail);
        if (verdict(value, k) == Verdict.NOT_JUDGED) {
            words.append("; uncertainty too large for this limit");
        }
        for (String doubt : doubts) {
            words.append("; ").append(doubt);
        }
        if (verdict == Verdict.CONDITIONAL_PASS || verdict == Verdict.CONDITIONAL_FAIL) {
            double conforms = Conformance.probability(value.value(), value.standardU(), limit.low(), limit.high());
            words.append(String.format(Locale.ROOT, "; conforms with a probability of %.0f %%", 100 * conforms));
        }
        double span = limit.high() - (neverNegative ? Math.max(0, limit.low()) : limit.low());
        OptionalDouble ratio = !Double.isInfinite(span) && span > 0 && u > 0
                ? OptionalDouble.of(Conformance.testUncertaintyRatio(span, u))
                : OptionalDouble.empty();
        return new Check(id, title, rail, value, u, k, limit, unit, verdict, ratio, words.toString());
    }

    Check unanswered(String reason) {
        return new Check(id, title, rail, new Missing(reason), 0, 0, limit, unit, Verdict.NOT_JUDGED, reason);
    }
}
