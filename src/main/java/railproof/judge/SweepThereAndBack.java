package railproof.judge;

import java.util.List;
import java.util.Optional;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.run.Point;
import railproof.run.Section;
import railproof.run.SweepNote;
import railproof.signal.Regulation;
import railproof.signal.ThermalPart;

/**
 * The checks of a load sweep that ends where it began, without load: what is different at its end is warming; what is
 * different beyond that at a load between, taken on the way up and on the way back, is hysteresis.
 */
final class SweepThereAndBack {
    private final Subject subject;
    private final List<Point> sweep;
    private final Optional<ThermalPart.Level> before;
    private final Optional<ThermalPart.Level> after;

    SweepThereAndBack(Subject subject) {
        this.subject = subject;
        this.sweep = subject.points(Section.LOAD_SWEEP);
        this.before = sweep.stream().findFirst().flatMap(this::unloaded);
        this.after = sweep.stream()
                .filter(point -> point.note().equals(SweepNote.RETURN))
                .findFirst()
                .flatMap(this::unloaded);
    }

    Check warming(double maxRatio) {
        Question question = new Question(
                subject,
                "warming",
                "Output without load, after the load sweep against before, of nominal",
                new Band(-maxRatio, maxRatio),
                Unit.RATIO);
        if (before.isEmpty() || after.isEmpty()) {
            return question.unanswered(whyNot());
        }
        Measured change = Regulation.ofBase(after.get().output(), before.get().output(), subject.nominalV());
        String detail = sweep.stream()
                .filter(subject::atFullLoad)
                .findFirst()
                .flatMap(this::level)
                .map(full -> ThermalPart.of(before.get(), full, after.get()))
                .map(parts -> "full load takes " + Words.of(parts.loadEffectV(), Unit.VOLT) + " off the output, and "
                        + Words.of(parts.warmingV(), Unit.VOLT) + " beside it is warming")
                .orElse("full load was not reached");
        return question.answer(change, detail, List.of());
    }

    /**
     * The largest difference between back and up at one load. What warming did in between is taken out, the straight line
     * over time between both readings without load; what it did may be anything from half of that to one and a half (a
     * rectangle, GUM 4.3.7; common practice, no source).
     */
    Check hysteresis(double maxRatio) {
        Question question = new Question(
                subject,
                "hysteresis",
                "Output on the way back against the way up at one load, warming taken out, of nominal",
                new Band(-maxRatio, maxRatio),
                Unit.RATIO);
        if (before.isEmpty() || after.isEmpty()) {
            return question.unanswered(whyNot());
        }
        Optional<Check> worst = Optional.empty();
        double worstBadness = Double.NEGATIVE_INFINITY;
        for (Point back : sweep) {
            Optional<ThermalPart.Level> down = back.note().equals(SweepNote.BACK) ? level(back) : Optional.empty();
            Optional<ThermalPart.Level> up = sweep.stream()
                    .filter(point -> point.note().isEmpty() && point.asked().equals(back.asked()))
                    .findFirst()
                    .flatMap(this::level);
            if (down.isPresent() && up.isPresent()) {
                Measured difference = withoutWarming(up.get(), down.get());
                if (question.badness(difference) > worstBadness) {
                    worstBadness = question.badness(difference);
                    worst = Optional.of(question.answer(difference, Words.at(back), List.of()));
                }
            }
        }
        return worst.orElseGet(() -> question.unanswered("no load was taken on the way up and on the way back"));
    }

    private Measured withoutWarming(ThermalPart.Level up, ThermalPart.Level down) {
        ThermalPart.Level cold = before.orElseThrow();
        ThermalPart.Level warm = after.orElseThrow();
        Measured seen = Regulation.ofBase(down.output(), up.output(), subject.nominalV());
        Measured change = Regulation.ofBase(warm.output(), cold.output(), subject.nominalV());
        double part = (down.atS() - up.atS()) / (warm.atS() - cold.atS());
        double warming = part * change.value();
        double u = Math.hypot(part * change.randomU(), warming / 2 / Math.sqrt(3));
        return new Measured(
                seen.value() - warming,
                Math.hypot(seen.randomU(), u),
                seen.sharedU(),
                seen.leadU(),
                seen.randomDof(),
                Unit.RATIO);
    }

    private String whyNot() {
        return sweep.isEmpty()
                ? subject.whyAbsent(Section.LOAD_SWEEP)
                : "the sweep did not come back to no load, or its output was not measured";
    }

    private Optional<ThermalPart.Level> unloaded(Point point) {
        return subject.unloaded(point) ? level(point) : Optional.empty();
    }

    private Optional<ThermalPart.Level> level(Point point) {
        return subject.output(point).map(output -> new ThermalPart.Level(point.elapsedS(), output));
    }
}
