package railproof.procedure;

import java.time.Duration;
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
import railproof.run.Waveform;

/**
 * The limit curve beyond its knee, down towards a short, in constant resistance, which meets every limit curve in one
 * point. Every point is an excursion of its own that ends within the profile's dwell, with a cool-down after it: into a
 * short the pass stage takes the whole unregulated voltage. How low the curve is followed depends on how fast the load
 * can be spoken to; where the dwell is too short for it, that is said.
 */
final class LimitCurve {
    /** The note of the point at which the overload was taken off. */
    static final String RELEASED = "released";

    static final int POINTS = 8;

    /** How far below the knee's resistance, whatever the load could still hold. */
    private static final double DEEPEST_RATIO = 50;
    /** A step may draw this much more than the knee, for the moment the output capacitor needs to follow. */
    private static final double SURGE_RATIO = 1.25;
    /** And no more than this part of what trips the load's own protection. */
    private static final double PROTECTION_RATIO = 0.95;

    private static final double GLIMPSE_S = 1e-3;

    private final Bench bench;
    private final Plan plan;
    private final Profile profile;
    private final Readings readings;
    private final Rail rail;
    private final double kneeA;

    /**
     * The curve of a rail.
     *
     * @param kneeA largest current it was seen to hold, A
     */
    LimitCurve(Bench bench, Profile profile, Readings readings, Rail rail, double kneeA) {
        this.bench = bench;
        this.profile = profile;
        this.plan = profile.plan();
        this.readings = readings;
        this.rail = rail;
        this.kneeA = kneeA;
    }

    /** Traces it, takes the load off where it was nearest to a short, and leaves it off. */
    void trace() throws RunEndException {
        double fromOhm = Math.abs(rail.nominalV()) / kneeA;
        // towards a short, as far as the load can still hold a resistance at its lowest working voltage
        double toOhm = Math.max(bench.loadMinimumV(rail.name()) / kneeA, fromOhm / DEEPEST_RATIO);
        double reachedOhm = Double.NaN;
        for (int i = 0; i < POINTS; i++) {
            double ohm = fromOhm * Math.pow(toOhm / fromOhm, i / (POINTS - 1.0));
            if (!approach(fromOhm, ohm, readings.quickS())) {
                bench.note(
                        RunEvent.Note.Level.WARNING,
                        String.format(
                                Locale.ROOT,
                                "%s: a dwell of %d ms is too short to come down to %.3g Ohm; the curve ends above it",
                                rail.name(),
                                plan.limitDwell().toMillis(),
                                ohm));
                break;
            }
            readings.takeQuick(Section.CURRENT_LIMIT, rail, "traced");
            off();
            reachedOhm = ohm;
        }
        if (!Double.isNaN(reachedOhm) && approach(fromOhm, reachedOhm, readings.quietS())) {
            letGo();
        }
    }

    private void off() throws RunEndException {
        bench.loadInput(rail.name(), false);
        bench.pause(plan.limitCoolDown());
    }

    /**
     * Comes down to a resistance. A low one switched straight onto a charged output capacitor would draw a surge that
     * trips the load's own protection. So each step asks for a resistance that draws hardly more than the knee from what
     * the output still has, and the next one waits until it has followed.
     *
     * @param neededS how long the load is to stay on afterwards, s
     * @return whether it came there with so much of the dwell left; otherwise the load is off and cooled down
     */
    private boolean approach(double fromOhm, double toOhm, double neededS) throws RunEndException {
        Duration settle = readings.quickSettle(rail);
        double endS = bench.elapsedS() + seconds(plan.limitDwell()) - seconds(settle) - neededS;
        double mostA = Math.min(
                SURGE_RATIO * kneeA,
                PROTECTION_RATIO * Qualification.envelope(rail).overCurrentA());
        double ohm = fromOhm;
        bench.load(rail.name(), LoadMode.RESISTANCE, ohm);
        bench.loadInput(rail.name(), true);
        while (ohm > toOhm && bench.elapsedS() <= endS) {
            double nextOhm =
                    Math.max(toOhm, Math.abs(bench.look(rail.name(), GLIMPSE_S).meanV()) / mostA);
            if (nextOhm < ohm) {
                ohm = nextOhm;
                bench.load(rail.name(), LoadMode.RESISTANCE, ohm);
            }
        }
        if (bench.elapsedS() > endS) {
            off();
            return false;
        }
        bench.pause(settle);
        return true;
    }

    private static double seconds(Duration duration) {
        return duration.toNanos() / 1e9;
    }

    /** The load taken off at the end of the trace, where the overload is worst: how the output comes back. */
    private void letGo() throws RunEndException {
        double quietS = readings.quietS();
        Waveform waveform = bench.captureDuring(
                Section.CURRENT_LIMIT,
                rail.name(),
                new Bench.Span(quietS, seconds(profile.plan().program().step().record())),
                () -> bench.loadInput(rail.name(), false));
        Map<Quantity, Reading> seen =
                bench.workOut(() -> readings.transients(rail, waveform).afterOverload(quietS));
        // none: the output is that afterwards
        seen.put(Quantity.LOAD_CURRENT, bench.loadCurrent(rail.name()));
        readings.keep(rail, waveform, seen, RELEASED);
        bench.pause(plan.limitCoolDown());
    }
}
