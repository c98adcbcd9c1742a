package railproof.judge;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.profile.LimitShape;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.Section;
import railproof.signal.LimitTrace;
import railproof.signal.LimitTrace.Mode;
import railproof.signal.LimitTrace.TracePoint;

/** The checks beyond the rated current: where the limit sets in, how it limits, the short, and the way back. */
final class LimitChecks {
    /** More output than this share of nominal is not a short. */
    private static final double SHORT_RATIO = 0.1;

    private final Subject subject;
    private final double referenceV;
    private final Optional<Measured> after;
    private final LimitTrace trace;

    LimitChecks(Subject subject) {
        this.subject = subject;
        List<Point> calm = new ArrayList<>(subject.points(Section.LOAD_SWEEP));
        List<Point> unloaded = new ArrayList<>(subject.points(Section.NO_LOAD));
        unloaded.addAll(calm);
        referenceV = unloaded.stream()
                .filter(subject::unloaded)
                .flatMap(point -> subject.output(point).stream())
                .map(Measured::value)
                .filter(v -> v > 0.5 * subject.nominalV())
                .findFirst()
                .orElse(subject.nominalV());
        List<Point> recovery = subject.points(Section.RECOVERY);
        // the first is taken with the load just off; a rail that latched is brought back and taken again
        after = recovery.isEmpty() ? Optional.empty() : subject.output(recovery.get(0));
        calm.addAll(subject.points(Section.CURRENT_LIMIT));
        List<TracePoint> points =
                calm.stream().flatMap(point -> tracePoint(point).stream()).toList();
        trace = LimitTrace.of(points, referenceV, after.map(v -> Math.max(0, v.value())));
    }

    List<Check> all() {
        List<Check> checks = new ArrayList<>();
        subject.rail().limits().currentLimitA().ifPresent(band -> checks.add(currentLimit(band)));
        if (subject.rail().limitShape() != LimitShape.NONE) {
            checks.add(shape());
        }
        subject.rail().limits().shortCircuitA().ifPresent(band -> checks.add(shortCircuit(band)));
        if (!checks.isEmpty() || !subject.points(Section.RECOVERY).isEmpty()) {
            checks.add(recovery());
        }
        return checks;
    }

    private Check currentLimit(Band band) {
        Question question = new Question(subject, "current-limit", "Current limit sets in", band, Unit.AMPERE);
        if (subject.points(Section.CURRENT_LIMIT).isEmpty()) {
            return question.unanswered(subject.whyAbsent(Section.CURRENT_LIMIT));
        }
        if (trace.onset().isPresent()) {
            String how = trace.sagged()
                    ? "the output left its band while the load still got its current: out of regulation, not limited"
                    : "between the last level held and the first that was not";
            List<String> doubts = trace.sagged() ? List.of("no limit was seen to act") : List.of();
            LimitTrace.Onset onset = trace.onset().get();
            return question.answer(onset.current(), onset.coverageFactor(Question.COVERAGE), how, doubts);
        }
        return noLimit(question, band);
    }

    /** The largest current held bounds the limit from below: enough to fail it, never to pass it. */
    private Check noLimit(Question question, Band band) {
        String upTo = "no limit up to " + Words.of(trace.highestHeldA(), Unit.AMPERE);
        Optional<Measured> held = highestHeld();
        if (held.isEmpty()) {
            return question.unanswered("no point of the search can be used");
        }
        Check bound = question.within(Band.atMost(band.high()))
                .answer(held.get(), upTo, List.of("the search ended before the limit was found"));
        return new Check(
                bound.id(),
                bound.title(),
                bound.rail(),
                bound.value(),
                bound.expandedU(),
                bound.coverageDimensionless(),
                band,
                bound.unit(),
                bound.verdict(),
                bound.testUncertaintyRatio(),
                bound.detail());
    }

    private Optional<Measured> highestHeld() {
        List<Point> points = new ArrayList<>(subject.points(Section.LOAD_SWEEP));
        points.addAll(subject.points(Section.CURRENT_LIMIT));
        return points.stream()
                .flatMap(point -> point.reading(Quantity.LOAD_CURRENT).measured().stream())
                .filter(current -> current.value() == trace.highestHeldA())
                .findFirst();
    }

    private Check shape() {
        return switch (subject.rail().limitShape()) {
            case CONSTANT_CURRENT -> ratio("constant current", new Band(0.85, 1.20));
            case FOLDBACK -> ratio("foldback", new Band(0, 0.85));
            case LATCHING -> latching();
            case NONE -> throw new IllegalStateException("nothing to check on a rail without a limit");
        };
    }

    private Check ratio(String expected, Band band) {
        Question question = new Question(
                subject,
                "limit-shape",
                "Limit is " + expected + ": short-circuit current over onset",
                band,
                Unit.RATIO);
        if (subject.points(Section.CURRENT_LIMIT).isEmpty()) {
            return question.unanswered(subject.whyAbsent(Section.CURRENT_LIMIT));
        }
        if (trace.onset().isEmpty() || trace.shortCircuit().isEmpty()) {
            return question.unanswered(
                    "the curve has no " + (trace.onset().isEmpty() ? "onset" : "short") + ": found " + found());
        }
        LimitTrace.Onset step = trace.onset().get();
        Measured onset = step.current();
        Measured current = trace.shortCircuit().get().current();
        double value = current.value() / onset.value();
        // both were read by one load: its gain cancels, its zero almost
        double random = Math.hypot(current.randomU(), value * onset.randomU()) / onset.value();
        double shared = Math.abs(current.sharedU() - value * onset.sharedU()) / onset.value();
        Measured measured = new Measured(value, random, shared, Double.POSITIVE_INFINITY, Unit.RATIO);
        double half = value * step.halfStepA() / onset.value();
        double rest = Math.sqrt(Math.max(0, Math.pow(measured.standardU(), 2) - half * half / 3));
        double k =
                half > 0 ? Question.COVERAGE.rectangleAndNormalFactor(half, rest) : Question.COVERAGE.factor(measured);
        String detail = "found " + found();
        if (trace.shape() == LimitTrace.Shape.LATCHING) {
            return question.check(measured, k, Verdict.FAIL, detail + ", which stays down without load", List.of());
        }
        return question.answer(measured, k, detail, List.of());
    }

    private Check latching() {
        Question question = new Question(
                        subject,
                        "limit-shape",
                        "Limit latches: output left after the load is taken off",
                        Band.atMost(SHORT_RATIO * referenceV),
                        Unit.VOLT)
                .ofMagnitude();
        if (after.isEmpty() || trace.shortCircuit().isEmpty()) {
            return question.unanswered(
                    after.isEmpty() ? subject.whyAbsent(Section.RECOVERY) : "the limit was not reached");
        }
        return question.answer(after.get(), "found " + found(), List.of());
    }

    private Check shortCircuit(Band band) {
        Question question = new Question(subject, "short-circuit", "Current into a short", band, Unit.AMPERE);
        if (subject.points(Section.CURRENT_LIMIT).isEmpty()) {
            return question.unanswered(subject.whyAbsent(Section.CURRENT_LIMIT));
        }
        if (trace.shortCircuit().isEmpty()) {
            return question.unanswered("the output was never brought down: found " + found());
        }
        TracePoint point = trace.shortCircuit().get();
        List<String> doubts =
                point.voltageV() > SHORT_RATIO * subject.nominalV() ? List.of("that is not a short") : List.of();
        String how = point.mode() == Mode.CONSTANT_CURRENT ? " (load at its floor in CC)" : "";
        return question.answer(
                point.current(), "with " + Words.of(point.voltageV(), Unit.VOLT) + " left at the output" + how, doubts);
    }

    private Check recovery() {
        Question question = new Question(
                subject,
                "recovery",
                "Output after the current-limit test",
                subject.rail().limits().outputV(),
                Unit.VOLT);
        boolean latched = after.map(v -> v.value() < SHORT_RATIO * referenceV).orElse(false);
        boolean broughtBack = subject.points(Section.RECOVERY).size() > 1;
        if (latched && !broughtBack && subject.rail().limitShape() == LimitShape.LATCHING) {
            return question.unanswered("latched as it should; take the line off and on and measure again");
        }
        return new SweepChecks(subject).single(question, Section.RECOVERY);
    }

    private String found() {
        return switch (trace.shape()) {
            case CONSTANT_CURRENT -> "constant current";
            case FOLDBACK -> "foldback";
            case LATCHING -> "a latching limit";
            case NONE -> "no limit up to " + Words.of(trace.highestHeldA(), Unit.AMPERE);
            case UNCLEAR -> "no clear shape";
        };
    }

    private Optional<TracePoint> tracePoint(Point point) {
        Optional<Measured> current = point.reading(Quantity.LOAD_CURRENT).measured();
        Optional<Measured> output = subject.output(point);
        boolean off = "off".equals(point.asked().mode()) || (point.asked().level() <= 0 && subject.unloaded(point));
        if (current.isEmpty() || output.isEmpty() || off) {
            return Optional.empty();
        }
        boolean constantCurrent = "CC".equals(point.asked().mode());
        return Optional.of(new TracePoint(
                constantCurrent ? Mode.CONSTANT_CURRENT : Mode.TRACED,
                constantCurrent ? point.asked().level() : 0,
                current.get(),
                Math.max(0, output.get().value())));
    }
}
