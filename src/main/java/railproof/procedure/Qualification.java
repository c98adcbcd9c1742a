package railproof.procedure;

import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.Envelope;
import railproof.rig.RigControl;
import railproof.rig.RunEndException;
import railproof.run.RunEvent;

/**
 * The full qualification of one unit: no-load check of every rail before any load, then rail by rail the load sweep,
 * the line sweep and the current limit. A rail that gives no usable output is recorded and not loaded.
 */
public final class Qualification implements RigControl.Work {
    private final Profile profile;

    /** A qualification to this profile. */
    public Qualification(Profile profile) {
        this.profile = profile;
    }

    /** About how many points a healthy unit of this profile gives, for the time left. */
    public static int expectedPoints(Profile profile) {
        int points = 0;
        for (Rail rail : profile.rails()) {
            points += 1
                    + LoadSweep.points(profile)
                    + LineSweep.POINTS
                    + CurrentLimitSearch.expectedPoints(profile, rail)
                    + 1;
        }
        return points;
    }

    @Override
    public void on(Bench bench) throws RunEndException {
        for (Rail rail : profile.rails()) {
            bench.envelope(rail.name(), envelope(rail));
        }
        Readings readings = new Readings(bench, profile);
        NoLoadCheck noLoad = new NoLoadCheck(bench, profile, readings);
        noLoad.powerUp();
        for (Rail rail : profile.rails()) {
            if (!noLoad.usable(rail)) {
                continue;
            }
            LoadSweep sweep = new LoadSweep(bench, profile, readings);
            double carriedA = sweep.run(rail);
            if (carriedA >= rail.ratedCurrentA()) {
                new LineSweep(bench, profile, readings).run(rail);
            } else {
                bench.note(
                        RunEvent.Note.Level.WARNING,
                        rail.name() + " does not carry its rated current; no line sweep at full load");
            }
            new CurrentLimitSearch(bench, profile, readings).run(rail, carriedA);
        }
        bench.lineOff();
    }

    /** What the rail may do: 5 % above the largest current ever asked for, because the load's own limit has errors. */
    private static Envelope envelope(Rail rail) {
        return new Envelope(rail.nominalV(), rail.overVoltageV(), 1.05 * rail.maxProbeCurrentA());
    }
}
