package railproof.procedure;

import java.util.EnumMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import railproof.base.Reading;
import railproof.profile.Profile;
import railproof.profile.Program.FirstPlan;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.RunEndException;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.Section;

/**
 * The first power-up of a unit just repaired: the line comes up in steps with every load off, and at each step every
 * rail is looked at before the next. Ends the run with its reason where going on would do damage. A lamp or resistor in
 * series with the line is the better protection still, and stays where it is during this (common practice, no source).
 */
final class FirstPowerUp {
    /** From half line on there must be raw voltage: at least this part of the output's nominal. */
    private static final double RAW_RATIO = 0.25;

    private static final double HALF_LINE_RATIO = 0.5;

    private final Bench bench;
    private final Profile profile;
    private final Readings readings;

    FirstPowerUp(Bench bench, Profile profile, Readings readings) {
        this.bench = bench;
        this.profile = profile;
        this.readings = readings;
    }

    /** Points taken of each rail: one at every line. */
    static int points(Profile profile) {
        return profile.plan().program().first().lineFractions().size();
    }

    /** Brings the line up to nominal. */
    void run() throws RunEndException {
        if (!bench.lineAdjustable()) {
            bench.note(
                    RunEvent.Note.Level.WARNING,
                    "this rig's line is fixed: the first power-up is done in one step, put a lamp in series with the"
                            + " unit");
            return;
        }
        FirstPlan plan = profile.plan().program().first();
        ChargingWatch charging = new ChargingWatch(bench, profile, readings);
        for (Rail rail : profile.rails()) {
            bench.section(Section.FIRST_POWER_UP, rail.name(), points(profile));
        }
        for (double ratio : plan.lineFractions()) {
            bench.lineOn(ratio * profile.line().nominalV(), profile.line().frequencyHz());
            charging.run(Section.FIRST_POWER_UP);
            Reading current = bench.lineCurrent();
            for (Rail rail : profile.rails()) {
                look(rail, ratio, current);
            }
        }
    }

    private void look(Rail rail, double lineRatio, Reading lineCurrent) throws RunEndException {
        boolean settled = readings.settle(rail);
        Map<Quantity, Reading> kept = new EnumMap<>(Quantity.class);
        readings.take(Section.FIRST_POWER_UP, rail, settled, percent(lineRatio), seen -> {
            seen.put(Quantity.LINE_CURRENT, lineCurrent);
            kept.putAll(seen);
        });
        Optional<String> reason = reasonToStop(rail, lineRatio, kept);
        if (reason.isPresent()) {
            throw new RunEndException(RunOutcome.End.TRIPPED, reason.get());
        }
    }

    private static String percent(double lineRatio) {
        return String.format(Locale.ROOT, "%.0f %% of the line", 100 * lineRatio);
    }

    private Optional<String> reasonToStop(Rail rail, double lineRatio, Map<Quantity, Reading> seen) {
        double outputV = ChargingWatch.magnitude(seen, Quantity.OUTPUT).orElse(0);
        double highestV = TransientReadings.magnitudes(rail).high();
        if (outputV > highestV) {
            return Optional.of(String.format(
                    Locale.ROOT,
                    "%s gives %.4g V without load at %s, allowed up to %.4g V: not regulated",
                    rail.name(),
                    outputV,
                    percent(lineRatio),
                    highestV));
        }
        return ChargingWatch.shorted(rail, seen)
                .or(() -> reservoirIsDown(rail, lineRatio, seen))
                .or(() -> takesTooMuch(lineRatio, seen));
    }

    private static Optional<String> reservoirIsDown(Rail rail, double lineRatio, Map<Quantity, Reading> seen) {
        OptionalDouble rawV = ChargingWatch.magnitude(seen, Quantity.RAW);
        double leastV = RAW_RATIO * Math.abs(rail.nominalV());
        if (rawV.isEmpty() || lineRatio < HALF_LINE_RATIO || rawV.getAsDouble() >= leastV) {
            return Optional.empty();
        }
        return Optional.of(String.format(
                Locale.ROOT,
                "%s: only %.3g V at the reservoir at %s: fuse, transformer, rectifier or a short",
                rail.name(),
                rawV.getAsDouble(),
                percent(lineRatio)));
    }

    private Optional<String> takesTooMuch(double lineRatio, Map<Quantity, Reading> seen) {
        OptionalDouble currentA = ChargingWatch.magnitude(seen, Quantity.LINE_CURRENT);
        double mostA = profile.plan().program().first().lineCurrentMaxA().orElse(Double.POSITIVE_INFINITY);
        if (currentA.isEmpty() || currentA.getAsDouble() <= mostA) {
            return Optional.empty();
        }
        return Optional.of(String.format(
                Locale.ROOT,
                "the unit takes %.3g A from the line without load at %s, allowed up to %.3g A",
                currentA.getAsDouble(),
                percent(lineRatio),
                mostA));
    }
}
