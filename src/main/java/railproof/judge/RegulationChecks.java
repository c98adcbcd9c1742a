package railproof.judge;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.profile.Convention;
import railproof.profile.RegulationLimit;
import railproof.run.Point;
import railproof.run.Section;
import railproof.signal.Regulation;

/** Load and line regulation, in the convention the profile names. Falling output is positive. */
final class RegulationChecks {
    private final Subject subject;

    RegulationChecks(Subject subject) {
        this.subject = subject;
    }

    Optional<Check> load() {
        return subject.rail().limits().loadRegulation().map(this::load);
    }

    Optional<Check> line() {
        return subject.rail().limits().lineRegulation().map(this::line);
    }

    private Check load(RegulationLimit limit) {
        Question question = question("load-regulation", "Load regulation", limit);
        List<Point> sweep = subject.points(Section.LOAD_SWEEP);
        if (sweep.isEmpty()) {
            return question.unanswered(subject.whyAbsent(Section.LOAD_SWEEP));
        }
        Optional<Point> unloaded =
                first(sweep, subject::unloaded).or(() -> first(subject.points(Section.NO_LOAD), subject::unloaded));
        Optional<Point> loaded = first(sweep, subject::atFullLoad);
        if (unloaded.isEmpty() || loaded.isEmpty()) {
            String which = unloaded.isEmpty() ? "without load" : "at full load";
            return question.unanswered("no output reading " + which
                    + (subject.run().outcome().completed()
                            ? ""
                            : ": " + subject.whyAbsent(Section.LOAD_SWEEP) + " to the end"));
        }
        Measured noLoad = subject.output(unloaded.get()).orElseThrow();
        Measured fullLoad = subject.output(loaded.get()).orElseThrow();
        List<String> doubts = new ArrayList<>();
        subject.loadDoubt(loaded.get()).ifPresent(doubts::add);
        String detail = Words.of(noLoad.value(), Unit.VOLT) + " at " + Words.at(unloaded.get()) + ", "
                + Words.of(fullLoad.value(), Unit.VOLT) + " at " + Words.at(loaded.get());
        double base = limit.convention() == Convention.OF_NO_LOAD ? noLoad.value() : fullLoad.value();
        if (base <= 0 && baseIsMeasured(limit)) {
            return question.unanswered("no percentage can be formed: " + detail);
        }
        Measured value =
                switch (limit.convention()) {
                    case OF_FULL_LOAD -> Regulation.ofFullLoad(noLoad, fullLoad);
                    case OF_NO_LOAD -> Regulation.ofNoLoad(noLoad, fullLoad);
                    case OF_NOMINAL -> Regulation.ofBase(noLoad, fullLoad, subject.nominalV());
                    case IN_VOLTS -> Regulation.difference(noLoad, fullLoad);
                };
        return question.answer(value, detail, doubts);
    }

    private Check line(RegulationLimit limit) {
        Question question = question("line-regulation", "Line regulation", limit);
        List<Point> sweep = subject.points(Section.LINE_SWEEP);
        if (sweep.isEmpty()) {
            return question.unanswered(subject.whyAbsent(Section.LINE_SWEEP));
        }
        double lowV = subject.profile().line().lowV();
        double highV = subject.profile().line().highV();
        Optional<Point> low = first(sweep, p -> subject.atFullLoad(p) && subject.atLine(p, lowV));
        Optional<Point> high = first(sweep, p -> subject.atFullLoad(p) && subject.atLine(p, highV));
        if (low.isEmpty() || high.isEmpty()) {
            return question.unanswered(
                    "no output reading at full load and line " + Words.of(low.isEmpty() ? lowV : highV, Unit.VOLT));
        }
        Measured atLow = subject.output(low.get()).orElseThrow();
        Measured atHigh = subject.output(high.get()).orElseThrow();
        List<String> doubts = new ArrayList<>();
        for (Point point : List.of(low.get(), high.get())) {
            subject.loadDoubt(point).ifPresent(doubts::add);
            subject.lineDoubt(point).ifPresent(doubts::add);
        }
        String detail = Words.of(atLow.value(), Unit.VOLT) + " at " + Words.at(low.get()) + ", "
                + Words.of(atHigh.value(), Unit.VOLT) + " at " + Words.at(high.get());
        if (limit.convention() == Convention.IN_VOLTS) {
            return question.answer(Regulation.difference(atHigh, atLow), detail, doubts);
        }
        Optional<Double> base = lineBase(limit.convention());
        if (base.isEmpty()) {
            return question.unanswered("no output reading to form the percentage of: " + detail);
        }
        return question.answer(Regulation.ofBase(atHigh, atLow, base.get()), detail, doubts);
    }

    /** What line regulation is a ratio of, V; the base's own uncertainty is of second order and left out. */
    private Optional<Double> lineBase(Convention convention) {
        if (convention == Convention.OF_NOMINAL) {
            return Optional.of(subject.nominalV());
        }
        boolean loaded = convention == Convention.OF_FULL_LOAD;
        double nominalLineV = subject.profile().line().nominalV();
        List<Point> candidates = new ArrayList<>(subject.points(Section.LINE_SWEEP));
        candidates.addAll(subject.points(Section.LOAD_SWEEP));
        candidates.addAll(subject.points(Section.NO_LOAD));
        return first(
                        candidates,
                        p -> subject.atLine(p, nominalLineV) && (loaded ? subject.atFullLoad(p) : subject.unloaded(p)))
                .flatMap(subject::output)
                .map(Measured::value)
                .filter(v -> v > 0);
    }

    private static boolean baseIsMeasured(RegulationLimit limit) {
        return limit.convention() == Convention.OF_FULL_LOAD || limit.convention() == Convention.OF_NO_LOAD;
    }

    private Optional<Point> first(List<Point> points, Predicate<Point> wanted) {
        return points.stream()
                .filter(wanted)
                .filter(point -> subject.output(point).isPresent())
                .findFirst();
    }

    private Question question(String id, String title, RegulationLimit limit) {
        double max = limit.maxDimensionless();
        String of =
                switch (limit.convention()) {
                    case OF_FULL_LOAD -> ", of the output at full load";
                    case OF_NO_LOAD -> ", of the output without load";
                    case OF_NOMINAL -> ", of the nominal output";
                    case IN_VOLTS -> ", in volts";
                };
        Unit unit = limit.convention() == Convention.IN_VOLTS ? Unit.VOLT : Unit.RATIO;
        return new Question(subject, id, title + of, new Band(-max, max), unit);
    }
}
