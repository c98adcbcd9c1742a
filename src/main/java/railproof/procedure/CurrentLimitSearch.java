package railproof.procedure;

import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import railproof.base.Reading;
import railproof.instrument.LoadMode;
import railproof.profile.Plan;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.RunEndException;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.Section;

/**
 * Where the current limit sets in, and what the rail does beyond it.
 *
 * <p>The onset is searched in constant current, upward, only as far as the first drop: at the knee of a foldback limit
 * a constant-current load pulls the output to its floor and holds it there, so that mode cannot trace the curve. The
 * drop is then narrowed by halving, and the curve traced down towards a short ({@link LimitCurve}). A drop lasts no longer
 * than the profile's dwell, with a cool-down after each. As long as the rail holds, the pass stage takes little more
 * than at full load, and the load stays on from step to step.
 */
final class CurrentLimitSearch {
    /** Output down by this much from full load counts as the limit having set in. */
    private static final double DROP_RATIO = 0.05;

    private static final int HALVINGS = 4;
    private static final double LATCHED_RATIO = 0.5;
    /** A latch lets go when the reservoir has run down; how long that takes is tried out. */
    private static final List<Duration> LATCH_RESETS =
            List.of(Duration.ofSeconds(5), Duration.ofSeconds(15), Duration.ofSeconds(60));

    private final Bench bench;
    private final Plan plan;
    private final Profile profile;
    private final Readings readings;

    CurrentLimitSearch(Bench bench, Profile profile, Readings readings) {
        this.bench = bench;
        this.profile = profile;
        this.plan = profile.plan();
        this.readings = readings;
    }

    /** About how many points: a limit is found half-way up as a rule. */
    static int expectedPoints(Profile profile, Rail rail) {
        double stepA = profile.plan().limitStepRatio() * rail.ratedCurrentA();
        double stepsDimensionless = (rail.maxProbeCurrentA() - rail.ratedCurrentA()) / stepA;
        return (int) Math.ceil(stepsDimensionless / 2) + HALVINGS + LimitCurve.POINTS + 1;
    }

    /**
     * Searches, traces, and checks that the rail comes back.
     *
     * @param carriedA the largest current the load sweep saw carried, A
     */
    void run(Rail rail, double carriedA) throws RunEndException {
        double stepA = plan.limitStepRatio() * rail.ratedCurrentA();
        int steps = (int) Math.ceil((rail.maxProbeCurrentA() - carriedA) / stepA);
        bench.section(Section.CURRENT_LIMIT, rail.name(), expectedPoints(profile, rail));
        double fullLoadV = Math.abs(readings.quickV(rail));
        double dropV = (1 - DROP_RATIO) * Math.min(fullLoadV, Math.abs(rail.nominalV()));
        double goodA = carriedA;
        double badA = Double.NaN;
        for (int i = 1; i <= steps && Double.isNaN(badA); i++) {
            double askedA = Math.min(carriedA + i * stepA, rail.maxProbeCurrentA());
            if (holds(rail, askedA, dropV)) {
                goodA = askedA;
            } else {
                badA = askedA;
            }
        }
        boolean latched = false;
        if (Double.isNaN(badA)) {
            bench.loadInput(rail.name(), false);
            bench.note(
                    RunEvent.Note.Level.INFO,
                    String.format(
                            Locale.ROOT,
                            "%s: no current limit up to %.3g A, the most this profile allows",
                            rail.name(),
                            rail.maxProbeCurrentA()));
        } else {
            latched = cool(rail);
            for (int i = 0; i < HALVINGS && !latched; i++) {
                double middleA = (goodA + badA) / 2;
                if (holds(rail, middleA, dropV)) {
                    goodA = middleA;
                } else {
                    badA = middleA;
                    latched = cool(rail);
                }
            }
            bench.loadInput(rail.name(), false);
            if (goodA == 0) {
                bench.note(
                        RunEvent.Note.Level.WARNING,
                        rail.name() + " holds no current at all: there is no knee to trace a curve from");
            } else if (!latched) {
                new LimitCurve(bench, profile, readings, rail, goodA).trace();
            }
        }
        recover(rail, latched);
    }

    /** One excursion in constant current; a drop takes the load off at once. */
    private boolean holds(Rail rail, double askedA, double dropV) throws RunEndException {
        bench.load(rail.name(), LoadMode.CURRENT, askedA);
        bench.loadInput(rail.name(), true);
        bench.pause(readings.quickSettle(rail));
        Map<Quantity, Reading> seen = readings.quick(rail);
        boolean holds = ChargingWatch.magnitude(seen, Quantity.OUTPUT).orElse(0) >= dropV;
        readings.keep(Section.CURRENT_LIMIT, rail, seen, holds ? "" : "collapsed");
        if (!holds) {
            bench.loadInput(rail.name(), false);
        }
        return holds;
    }

    /** Cools down with the load off; says whether the rail stayed down. */
    private boolean cool(Rail rail) throws RunEndException {
        bench.pause(plan.limitCoolDown());
        double outputV = readings.quickV(rail);
        boolean latched = down(rail, outputV);
        if (latched) {
            bench.note(
                    RunEvent.Note.Level.INFO,
                    String.format(
                            Locale.ROOT,
                            "%s stays at %.3g V with the load off: its limit latches",
                            rail.name(),
                            outputV));
        }
        return latched;
    }

    private void recover(Rail rail, boolean latched) throws RunEndException {
        bench.section(Section.RECOVERY, rail.name(), latched ? 2 : 1);
        boolean settled = readings.settle(rail);
        if (!latched) {
            readings.take(Section.RECOVERY, rail, settled, "");
            return;
        }
        readings.take(Section.RECOVERY, rail, settled, "stays down with the load off");
        String how = "stays down though the line was off";
        for (int i = 0; i < LATCH_RESETS.size() && how.startsWith("stays"); i++) {
            Duration off = LATCH_RESETS.get(i);
            bench.lineOff();
            bench.pause(off);
            bench.lineOn(profile.line().nominalV(), profile.line().frequencyHz());
            readings.settle(rail);
            if (!down(rail, readings.quickV(rail))) {
                how = "back after the line was off for " + off.toSeconds() + " s";
            }
        }
        readings.take(Section.RECOVERY, rail, readings.settle(rail), how);
    }

    private static boolean down(Rail rail, double outputV) {
        return Math.abs(outputV) < LATCHED_RATIO * Math.abs(rail.nominalV());
    }
}
