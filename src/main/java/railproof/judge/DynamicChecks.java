package railproof.judge;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Predicate;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.profile.DynamicLimits;
import railproof.profile.LimitShape;
import railproof.run.CrossNote;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.Section;
import railproof.signal.Regulation;

/** The checks of what happens when something changes: load steps, line off and on, a sagging line, other rails. */
final class DynamicChecks {
    /** A full-wave rectifier knows half cycles only. */
    private static final double HALF_CYCLE = 0.5;

    private final Subject subject;
    private final DynamicLimits limits;

    DynamicChecks(Subject subject) {
        this.subject = subject;
        this.limits = subject.rail().limits().dynamic();
    }

    List<Check> all() {
        List<Check> checks = new ArrayList<>();
        limits.dropoutLineMaxV().map(this::dropout).ifPresent(checks::add);
        limits.recoveryMaxS()
                .map(max -> worst(
                        magnitude("step-recovery", "Recovery from a load step, the slower of both", max, Unit.SECOND),
                        Section.LOAD_STEP,
                        Quantity.TRANSIENT_TIME))
                .ifPresent(checks::add);
        limits.stepDeviationMaxV().map(this::stepDeviation).ifPresent(checks::add);
        limits.holdUpMinS().map(this::holdUp).ifPresent(checks::add);
        limits.startUpMaxS()
                .map(max -> startUp(
                        magnitude("start-up-time", "Line on to output in its band", max, Unit.SECOND),
                        Quantity.TRANSIENT_TIME))
                .ifPresent(checks::add);
        limits.startUpOvershootMaxV()
                .map(max -> startUp(
                        magnitude("start-up-overshoot", "Overshoot at start-up", max, Unit.VOLT), Quantity.OVERSHOOT))
                .ifPresent(checks::add);
        limits.overloadRecoveryMaxS().map(this::overloadRecovery).ifPresent(checks::add);
        limits.crossRegulationMaxRatio().map(this::crossRegulation).ifPresent(checks::add);
        SweepThereAndBack sweep = new SweepThereAndBack(subject);
        limits.warmingMaxRatio().map(sweep::warming).ifPresent(checks::add);
        limits.hysteresisMaxRatio().map(sweep::hysteresis).ifPresent(checks::add);
        return checks;
    }

    private Question magnitude(String id, String title, double max, Unit unit) {
        return new Question(subject, id, title, Band.atMost(max), unit).ofMagnitude();
    }

    /** The worst of a section's points; a point without the reading keeps the check from passing. */
    private Check worst(Question question, Section section, Quantity quantity) {
        return worst(question, section, quantity, point -> true);
    }

    private Check worst(Question question, Section section, Quantity quantity, Predicate<Point> counts) {
        List<Point> points = subject.points(section).stream().filter(counts).toList();
        if (points.isEmpty()) {
            return question.unanswered(subject.whyAbsent(section));
        }
        List<String> doubts = new ArrayList<>();
        Optional<Point> worst = Optional.empty();
        double worstBadness = Double.NEGATIVE_INFINITY;
        for (Point point : points) {
            Optional<Measured> value = point.reading(quantity).measured();
            if (value.isEmpty()) {
                doubts.add(point.note() + ": " + why(point, quantity));
            } else if (question.badness(value.get()) > worstBadness || worst.isEmpty()) {
                worst = Optional.of(point);
                worstBadness = question.badness(value.get());
            }
        }
        if (worst.isEmpty()) {
            return question.unanswered(String.join("; ", doubts));
        }
        Measured value = worst.get().reading(quantity).measured().orElseThrow();
        double k =
                quantity == Quantity.TRANSIENT_TIME ? timeFactor(worst.get(), value) : Question.COVERAGE.factor(value);
        return question.answer(value, k, worst.get().note(), doubts);
    }

    /**
     * A change comes anywhere between two samples: a rectangle as wide as their spacing, which may outweigh all else; then
     * k = 2 would claim too much (EA-4/02 M, S9).
     */
    private double timeFactor(Point point, Measured value) {
        Optional<Double> half = subject.run().waveforms().stream()
                .filter(waveform -> waveform.id() == point.waveform().orElse(-1))
                .map(waveform -> 0.5 / waveform.rateHz())
                .findFirst();
        double rest = half.map(a -> Math.pow(value.standardU(), 2) - a * a / 3).orElse(-1.0);
        // a hair below: the two were added in another order
        return half.isPresent() && rest > -1e-9 * Math.pow(value.standardU(), 2)
                ? Question.COVERAGE.rectangleAndNormalFactor(half.get(), Math.sqrt(Math.max(0, rest)))
                : Question.COVERAGE.factor(value);
    }

    private static String why(Point point, Quantity quantity) {
        return point.reading(quantity) instanceof Missing missing ? missing.reason() : "";
    }

    private Check stepDeviation(double maxV) {
        Question question =
                magnitude("step-deviation", "Farthest from the final value after a load step", maxV, Unit.VOLT);
        Check under = worst(question, Section.LOAD_STEP, Quantity.UNDERSHOOT);
        Check over = worst(question, Section.LOAD_STEP, Quantity.OVERSHOOT);
        double underV = under.value().measured().map(Measured::value).orElse(0.0);
        double overV = over.value().measured().map(Measured::value).orElse(0.0);
        return underV >= overV ? under : over;
    }

    private Check holdUp(double minS) {
        Question question = new Question(
                subject,
                "hold-up",
                "Hold-up at full load, line off to output out of its band",
                Band.atLeast(minS),
                Unit.SECOND);
        Check worst = worst(question, Section.HOLD_UP, Quantity.TRANSIENT_TIME);
        return worst.value().measured().isEmpty() ? worst : holdUpAtItsLeast(question);
    }

    /**
     * The worst of all phases of the line, from those at which it went off. While the rectifier does not conduct, the
     * reservoir runs down whether the line is there or not: a line that goes later by some time leaves the output standing for
     * just so much less, up to where the rectifier would have conducted again and a later phase was seen to be better. So the least
     * lies between the shortest time seen and that time less the way to the next phase seen; anywhere there (a rectangle,
     * GUM 4.3.7).
     */
    private Check holdUpAtItsLeast(Question question) {
        NavigableMap<Double, Measured> byPhase = new TreeMap<>();
        List<String> doubts = new ArrayList<>();
        double lineHz = subject.profile().line().frequencyHz();
        Optional<Point> shortest = Optional.empty();
        double shortestS = Double.POSITIVE_INFINITY;
        for (Point point : subject.points(Section.HOLD_UP)) {
            Optional<Measured> time = point.reading(Quantity.TRANSIENT_TIME).measured();
            Optional<Measured> phase = point.reading(Quantity.LINE_PHASE).measured();
            if (time.isEmpty()) {
                doubts.add(why(point, Quantity.TRANSIENT_TIME));
                continue;
            }
            phase.ifPresent(cycles -> byPhase.put(cycles.value() % HALF_CYCLE, time.get()));
            if (time.get().value() < shortestS) {
                shortestS = time.get().value();
                shortest = Optional.of(point);
            }
        }
        Measured seen = shortest.orElseThrow()
                .reading(Quantity.TRANSIENT_TIME)
                .measured()
                .orElseThrow();
        Optional<Measured> phase = shortest.get().reading(Quantity.LINE_PHASE).measured();
        if (byPhase.size() < 2 || phase.isEmpty()) {
            return question.answer(seen, "line off at one phase only; at others it may be half a cycle less", doubts);
        }
        double at = phase.get().value() % HALF_CYCLE;
        Double next = byPhase.higherKey(at);
        double wayS = (next == null ? byPhase.firstKey() + HALF_CYCLE - at : next - at) / lineHz;
        double u = Math.hypot(seen.randomU(), wayS / 2 / Math.sqrt(3));
        Measured least = new Measured(seen.value() - wayS / 2, u, seen.sharedU(), seen.randomDof(), Unit.SECOND);
        String detail = String.format(
                Locale.ROOT,
                "shortest of %d phases of the line %s, at %.0f° from its zero; up to %s less before the next phase seen",
                byPhase.size(),
                Words.of(seen.value(), Unit.SECOND),
                360 * at,
                Words.of(wayS, Unit.SECOND));
        return question.answer(least, detail, doubts);
    }

    /**
     * A foldback supply need not start into a constant current; that start is on record, and judged for all other
     * shapes.
     */
    private Check startUp(Question question, Quantity quantity) {
        boolean foldback = subject.rail().limitShape() == LimitShape.FOLDBACK;
        return worst(
                question,
                Section.START_UP,
                quantity,
                point -> !foldback || point.asked().mode().equals("CR"));
    }

    private Check overloadRecovery(double maxS) {
        Question question =
                magnitude("overload-recovery", "Overload taken off to output in its band", maxS, Unit.SECOND);
        return worst(question, Section.CURRENT_LIMIT, Quantity.TRANSIENT_TIME, point -> point.readings()
                .containsKey(Quantity.TRANSIENT_TIME));
    }

    private Check dropout(double maxV) {
        Question question = magnitude("dropout-line", "Line at which regulation is lost at full load", maxV, Unit.VOLT);
        List<Point> points = subject.points(Section.DROPOUT_LINE);
        if (points.isEmpty()) {
            return question.unanswered(subject.whyAbsent(Section.DROPOUT_LINE));
        }
        Point last = points.get(points.size() - 1);
        Optional<Measured> line = last.reading(Quantity.LINE).measured();
        if (line.isEmpty()) {
            return question.unanswered("the line was not measured: " + why(last, Quantity.LINE));
        }
        // without a bracket the lowest line tried still held: the true value lies below it, which can only pass
        String detail = last.note().isEmpty()
                ? "still regulated at the lowest line tried"
                : "middle of the last line held and the first that was not";
        return question.answer(line.get(), detail, List.of());
    }

    private Check crossRegulation(double maxRatio) {
        Question question = new Question(
                subject,
                "cross-regulation",
                "Change when another rail goes to full load, of nominal",
                new Band(-maxRatio, maxRatio),
                Unit.RATIO);
        List<Point> points = subject.points(Section.CROSS_REGULATION);
        Optional<Check> worst = Optional.empty();
        double worstBadness = Double.NEGATIVE_INFINITY;
        for (Point high : points) {
            Optional<CrossNote> note = CrossNote.of(high.note()).filter(CrossNote::high);
            Optional<Point> low = note.flatMap(n -> points.stream()
                    .filter(p -> p.note().equals(new CrossNote(n.aggressor(), false).text()))
                    .findFirst());
            if (low.isEmpty()
                    || subject.output(high).isEmpty()
                    || subject.output(low.get()).isEmpty()) {
                continue;
            }
            Measured change = Regulation.ofBase(
                    subject.output(low.get()).orElseThrow(),
                    subject.output(high).orElseThrow(),
                    subject.nominalV());
            if (question.badness(change) > worstBadness) {
                worstBadness = question.badness(change);
                worst = Optional.of(question.answer(change, high.note(), List.of()));
            }
        }
        return worst.orElseGet(() -> question.unanswered(
                points.isEmpty() ? subject.whyAbsent(Section.CROSS_REGULATION) : "no pair of readings"));
    }
}
