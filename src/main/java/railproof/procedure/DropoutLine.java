package railproof.procedure;

import java.util.Locale;
import railproof.base.Measured;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.instrument.LoadMode;
import railproof.profile.LineRating;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.RunEndException;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.Section;

/**
 * How far the line may sag before full load is no longer regulated: lowered step by step from low line until the mean
 * output has fallen by the profile's part of what it was at nominal line, then narrowed by halving. The answer lies
 * between two lines as measured at the unit's inlet, not as asked for.
 */
final class DropoutLine {
    /** The last point's note; its line voltage is the answer. */
    static final String FOUND = "regulation is lost here";

    private static final double STEP_RATIO = 0.04;
    /** Lower than this there is nothing left to learn. */
    private static final double LOWEST_RATIO = 0.5;
    /** The bracket is narrowed to this part of nominal, or to what the rig can set. */
    private static final double FINE_RATIO = 0.002;

    private final Bench bench;
    private final Profile profile;
    private final Readings readings;

    DropoutLine(Bench bench, Profile profile, Readings readings) {
        this.bench = bench;
        this.profile = profile;
        this.readings = readings;
    }

    /** Steps down to a quarter below low line as a rule, then five halvings. */
    static int expectedPoints() {
        return 10;
    }

    /** Searches, and leaves the line at nominal and the load off. */
    void run(Rail rail) throws RunEndException {
        if (!bench.lineAdjustable()) {
            bench.note(
                    RunEvent.Note.Level.WARNING,
                    rail.name() + ": this rig's line is fixed; the line at which regulation is lost is not looked for");
            return;
        }
        LineRating line = profile.line();
        bench.section(Section.DROPOUT_LINE, rail.name(), expectedPoints());
        bench.load(rail.name(), LoadMode.CURRENT, rail.ratedCurrentA());
        bench.loadInput(rail.name(), true);
        readings.settle(rail);
        double nominalV = Math.abs(readings.take(Section.DROPOUT_LINE, rail, true, "nominal line"));
        double lostBelowV = (1 - profile.plan().program().dropoutRatio()) * nominalV;
        double goodV = line.nominalV();
        double badV = Double.NaN;
        for (double askedV = line.lowV();
                Double.isNaN(badV) && askedV >= LOWEST_RATIO * line.nominalV();
                askedV -= STEP_RATIO * line.nominalV()) {
            if (holds(rail, askedV, lostBelowV)) {
                goodV = askedV;
            } else {
                badV = askedV;
            }
        }
        if (Double.isNaN(badV)) {
            bench.note(
                    RunEvent.Note.Level.INFO,
                    String.format(Locale.ROOT, "%s regulates down to a line of %.4g V", rail.name(), goodV));
        } else {
            narrow(rail, goodV, badV, lostBelowV);
        }
        bench.loadInput(rail.name(), false);
        bench.lineOn(line.nominalV(), line.frequencyHz());
    }

    private void narrow(Rail rail, double lastGoodV, double firstBadV, double lostBelowV) throws RunEndException {
        double fineV =
                Math.max(FINE_RATIO, bench.lineBandRatio()) * profile.line().nominalV();
        double goodV = lastGoodV;
        double badV = firstBadV;
        while (goodV - badV > fineV) {
            double middleV = (goodV + badV) / 2;
            if (holds(rail, middleV, lostBelowV)) {
                goodV = middleV;
            } else {
                badV = middleV;
            }
        }
        double halfV = (goodV - badV) / 2;
        bench.lineOn(goodV - halfV, profile.line().frequencyHz());
        boolean settled = readings.settle(rail);
        readings.take(Section.DROPOUT_LINE, rail, settled, FOUND, seen -> {
            Reading lineV = seen.get(Quantity.LINE);
            if (lineV instanceof Measured measured) {
                // anywhere in the bracket: a rectangle's half-width over √3 (GUM 4.3.7)
                double u = Math.hypot(measured.randomU(), halfV / Math.sqrt(3));
                seen.put(
                        Quantity.LINE,
                        new Measured(measured.value(), u, measured.sharedU(), Double.POSITIVE_INFINITY, Unit.VOLT));
            }
        });
    }

    private boolean holds(Rail rail, double lineV, double lostBelowV) throws RunEndException {
        bench.lineOn(lineV, profile.line().frequencyHz());
        boolean settled = readings.settle(rail);
        return Math.abs(readings.take(Section.DROPOUT_LINE, rail, settled, "")) >= lostBelowV;
    }
}
