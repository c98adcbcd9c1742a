package railproof.judge;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.Section;

/** The checks that look for the worst point of a sweep: output voltage and ripple. */
final class SweepChecks {
    private final Subject subject;

    SweepChecks(Subject subject) {
        this.subject = subject;
    }

    Check noLoadVoltage() {
        Question question = new Question(
                subject,
                "no-load-voltage",
                "Output without load",
                subject.rail().limits().outputV(),
                Unit.VOLT);
        return single(question, Section.NO_LOAD);
    }

    /** One reading of the output in a section that has one point. */
    Check single(Question question, Section section) {
        List<Point> points = subject.points(section);
        if (points.isEmpty()) {
            return question.unanswered(subject.whyAbsent(section));
        }
        Point point = points.get(points.size() - 1);
        return point.reading(Quantity.OUTPUT)
                .measured()
                .map(value -> question.answer(value, "at " + Words.at(point), List.of()))
                .orElseGet(() -> question.unanswered("output not measured: " + reason(point, Quantity.OUTPUT)));
    }

    Check outputVoltage() {
        return worst(
                new Question(
                        subject,
                        "output-voltage",
                        "Output, worst point of load and line sweep",
                        subject.rail().limits().outputV(),
                        Unit.VOLT),
                Quantity.OUTPUT);
    }

    Optional<Check> ripplePp() {
        return subject.rail()
                .limits()
                .ripplePpMaxV()
                .map(max -> worst(
                        new Question(
                                        subject,
                                        "ripple-pp",
                                        "Ripple, peak to peak, worst point of load and line sweep",
                                        Band.atMost(max),
                                        Unit.VOLT)
                                .ofMagnitude(),
                        Quantity.RIPPLE_PP));
    }

    Optional<Check> rippleRms() {
        return subject.rail()
                .limits()
                .rippleRmsMaxV()
                .map(max -> worst(
                        new Question(
                                        subject,
                                        "ripple-rms",
                                        "Ripple, r.m.s., worst point of load and line sweep",
                                        Band.atMost(max),
                                        Unit.VOLT)
                                .ofMagnitude(),
                        Quantity.RIPPLE_RMS));
    }

    private Check worst(Question question, Quantity quantity) {
        List<Point> sweep = subject.points(Section.LOAD_SWEEP);
        if (sweep.isEmpty()) {
            return question.unanswered(subject.whyAbsent(Section.LOAD_SWEEP));
        }
        List<Point> points = new ArrayList<>(sweep);
        points.addAll(subject.points(Section.LINE_SWEEP));
        List<String> doubts = new ArrayList<>(subject.gapsInSweep());
        Optional<Point> worst = Optional.empty();
        int judged = 0;
        for (Point point : points) {
            Optional<Measured> value = point.reading(quantity).measured();
            if (value.isEmpty()) {
                doubts.add(quantity.column() + " missing at " + Words.at(point) + " (" + reason(point, quantity) + ")");
                continue;
            }
            judged++;
            subject.loadDoubt(point).ifPresent(doubts::add);
            if (worst.isEmpty() || worse(question, point, worst.get(), quantity)) {
                worst = Optional.of(point);
            }
        }
        if (worst.isEmpty()) {
            return question.unanswered(String.join("; ", doubts));
        }
        String detail = String.format(Locale.ROOT, "worst of %d points, at %s", judged, Words.at(worst.get()));
        return question.answer(value(worst.get(), quantity), detail, doubts);
    }

    private static boolean worse(Question question, Point point, Point than, Quantity quantity) {
        Measured a = value(point, quantity);
        Measured b = value(than, quantity);
        int byVerdict = question.verdict(a).compareTo(question.verdict(b));
        return byVerdict > 0 || (byVerdict == 0 && question.badness(a) > question.badness(b));
    }

    private static Measured value(Point point, Quantity quantity) {
        return point.reading(quantity).measured().orElseThrow();
    }

    private static String reason(Point point, Quantity quantity) {
        return point.reading(quantity) instanceof Missing missing ? missing.reason() : "";
    }
}
