package railproof.judge;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.profile.BurnInPlan;
import railproof.profile.Rail;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.Section;
import railproof.signal.Regulation;

/**
 * The checks of a burn-in: the worst of all rows, what changed from the first hot reading to the last, the heat sink,
 * and the reading after cooling. What one channel shares cancels in drift and ripple growth.
 */
final class BurnInChecks {
    private static final double SECONDS_PER_HOUR = 3600;

    private final Subject subject;
    private final BurnInPlan plan;
    private final Rail rail;

    BurnInChecks(Subject subject) {
        this.subject = subject;
        this.plan = subject.profile().plan().burnIn();
        this.rail = subject.rail();
    }

    /** Whether the run was a burn-in, however early it ended. */
    static boolean concerns(RunData run) {
        return run.events().stream().anyMatch(RunEvent.BurnInPlanned.class::isInstance);
    }

    List<Check> all() {
        List<Check> checks = new ArrayList<>();
        checks.add(worst(
                ofOutput("no-load-voltage", "Output without load, worst of all starts"),
                Quantity.OUTPUT,
                subject.points(Section.NO_LOAD),
                subject.whyAbsent(Section.NO_LOAD)));
        checks.add(worst(
                ofOutput("burn-in-output", "Output under burn-in, worst row"),
                Quantity.OUTPUT,
                rows(),
                subject.whyAbsent(Section.BURN_IN)));
        rail.limits()
                .ripplePpMaxV()
                .ifPresent(max -> checks.add(worst(
                        new Question(
                                        subject,
                                        "burn-in-ripple-pp",
                                        "Ripple under burn-in, peak to peak, worst reading",
                                        Band.atMost(max),
                                        Unit.VOLT)
                                .ofMagnitude(),
                        Quantity.RIPPLE_PP,
                        rows(),
                        subject.whyAbsent(Section.BURN_IN))));
        checks.add(drift());
        checks.add(rippleGrowth());
        plan.heatSinkMaxC()
                .ifPresent(max -> checks.add(worst(
                        new Question(
                                subject,
                                "burn-in-heat-sink",
                                "Heat sink under burn-in, hottest row",
                                Band.atMost(max),
                                Unit.CELSIUS),
                        Quantity.HEAT_SINK,
                        rows(),
                        subject.whyAbsent(Section.BURN_IN))));
        checks.add(new SweepChecks(subject)
                .single(ofOutput("burn-in-cooled", "Output under load after cooling"), Section.BURN_IN_COOLED));
        return checks;
    }

    private Question ofOutput(String id, String title) {
        return new Question(subject, id, title, rail.limits().outputV(), Unit.VOLT);
    }

    private List<Point> rows() {
        List<Point> rows = new ArrayList<>(subject.points(Section.BURN_IN));
        rows.addAll(subject.points(Section.BURN_IN_HOT));
        return rows;
    }

    private Check worst(Question question, Quantity quantity, List<Point> points, String whyAbsent) {
        Optional<Point> worst = Optional.empty();
        double worstBadness = Double.NEGATIVE_INFINITY;
        int judged = 0;
        for (Point point : points) {
            // signed as the limits are: a negative rail's band is negative
            Optional<Measured> value = point.reading(quantity).measured();
            if (value.isPresent()) {
                judged++;
                double badness = question.badness(value.get());
                if (badness > worstBadness) {
                    worst = Optional.of(point);
                    worstBadness = badness;
                }
            }
        }
        if (worst.isEmpty()) {
            return question.unanswered(points.isEmpty() ? whyAbsent : quantity.column() + " was not measured");
        }
        String detail = String.format(Locale.ROOT, "worst of %d, at %s", judged, at(worst.get()));
        return question.answer(worst.get().reading(quantity).measured().orElseThrow(), detail, List.of());
    }

    private static String at(Point point) {
        String when = point.reading(Quantity.LOADED_TIME)
                .measured()
                .map(loaded -> String.format(Locale.ROOT, ", %.2f h under load", loaded.value() / SECONDS_PER_HOUR))
                .orElse("");
        return Words.at(point) + when;
    }

    /** First and last hot reading; empty unless there are both. */
    private Optional<Point[]> hot() {
        List<Point> hot = subject.points(Section.BURN_IN_HOT);
        return hot.size() < 2 ? Optional.empty() : Optional.of(new Point[] {hot.get(0), hot.get(hot.size() - 1)});
    }

    private Check drift() {
        double max = plan.driftMaxRatio();
        Question question = new Question(
                subject,
                "burn-in-drift",
                "Drift of the output, first hot reading to last, of the first",
                new Band(-max, max),
                Unit.RATIO);
        Optional<Point[]> hot = hot();
        Optional<Measured> first = hot.flatMap(h -> subject.output(h[0]));
        Optional<Measured> last = hot.flatMap(h -> subject.output(h[1]));
        if (hot.isEmpty() || first.isEmpty() || last.isEmpty() || !(first.get().value() > 0)) {
            return question.unanswered(noTwoReadings());
        }
        String detail = Words.of(first.get().value(), Unit.VOLT) + " at " + at(hot.get()[0]) + ", "
                + Words.of(last.get().value(), Unit.VOLT) + " at " + at(hot.get()[1]);
        return question.answer(Regulation.ofFullLoad(last.get(), first.get()), detail, doubts(hot.get()));
    }

    private Check rippleGrowth() {
        Question question = new Question(
                        subject,
                        "burn-in-ripple-growth",
                        "Ripple, peak to peak, last hot reading over first",
                        Band.atMost(plan.rippleGrowthMaxRatio()),
                        Unit.RATIO)
                .ofMagnitude();
        Optional<Point[]> hot = hot();
        Optional<Measured> first =
                hot.flatMap(h -> h[0].reading(Quantity.RIPPLE_PP).measured());
        Optional<Measured> last =
                hot.flatMap(h -> h[1].reading(Quantity.RIPPLE_PP).measured());
        if (hot.isEmpty() || first.isEmpty() || last.isEmpty()) {
            return question.unanswered(noTwoReadings());
        }
        double baseV = plan.rippleBaseV(first.get().value(), rail);
        if (!(baseV > 0)) {
            return question.unanswered("the first hot reading has no ripple to compare with");
        }
        boolean ofFirst = baseV == first.get().value();
        String detail = Words.of(first.get().value(), Unit.VOLT) + " at first, "
                + Words.of(last.get().value(), Unit.VOLT) + " at last"
                + (ofFirst ? "" : "; counted against a tenth of the limit");
        return question.answer(growth(first.get(), last.get(), baseV, ofFirst), detail, doubts(hot.get()));
    }

    private static Measured growth(Measured first, Measured last, double baseV, boolean ofFirst) {
        double ratio = last.value() / baseV;
        double firstShare = ofFirst ? ratio : 0;
        double random = Math.hypot(last.randomU(), firstShare * first.randomU()) / baseV;
        double shared = Math.abs(last.sharedU() - firstShare * first.sharedU()) / baseV;
        return new Measured(ratio, random, shared, Math.min(first.randomDof(), last.randomDof()), Unit.RATIO);
    }

    private List<String> doubts(Point[] hot) {
        List<String> doubts = new ArrayList<>();
        subject.loadDoubt(hot[0]).ifPresent(doubts::add);
        subject.loadDoubt(hot[1]).ifPresent(doubts::add);
        return doubts;
    }

    private String noTwoReadings() {
        String early = subject.run().outcome().completed() ? "" : ": the run ended early";
        return "there are no two hot readings to compare" + early;
    }

    /** Time under load against what was asked for; one for the whole unit. */
    static Check hours(Subject subject) {
        RunData run = subject.run();
        double askedS = run.events().stream()
                .filter(RunEvent.BurnInPlanned.class::isInstance)
                .mapToDouble(event -> ((RunEvent.BurnInPlanned) event).askedS())
                .findFirst()
                .orElse(subject.profile().plan().burnIn().time().toMillis() / 1e3);
        double doneS = run.points().stream()
                .flatMap(point -> point.reading(Quantity.LOADED_TIME).measured().stream())
                .mapToDouble(Measured::value)
                .reduce(0, Math::max);
        long gaps =
                run.events().stream().filter(RunEvent.Resumed.class::isInstance).count();
        Question question = new Question(
                "burn-in-hours",
                "Time under load, of what was asked for",
                Envelope.WHOLE_UNIT,
                Band.atLeast(1),
                true,
                Unit.RATIO,
                subject.profile().rule());
        String detail = String.format(
                Locale.ROOT, "%.2f h of %.2f h%s", doneS / SECONDS_PER_HOUR, askedS / SECONDS_PER_HOUR, gapWords(gaps));
        Check check = question.answer(Measured.of(doneS / askedS, 0, Unit.RATIO), detail, List.of());
        // too short for another reason than the unit's own proves nothing against the unit
        return check.verdict() == Verdict.FAIL && !run.outcome().completed() ? question.unanswered(detail) : check;
    }

    private static String gapWords(long gaps) {
        return gaps == 0 ? "" : ", taken up again " + (gaps == 1 ? "once" : gaps + " times") + " after a break";
    }
}
