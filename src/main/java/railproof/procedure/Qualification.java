package railproof.procedure;

import java.util.ArrayList;
import java.util.List;
import railproof.profile.Procedure;
import railproof.profile.Profile;
import railproof.profile.Program;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.Envelope;
import railproof.rig.RigControl;
import railproof.rig.RunEndException;
import railproof.run.RunEvent;

/**
 * The full qualification of one unit: the first power-up if the profile asks for it, the check of every rail without
 * load, then rail by rail what the profile asks for, from what strains least to what strains most, and at the end what
 * the rails do to each other. A rail that gives no usable output is recorded and not loaded.
 */
public final class Qualification implements RigControl.Work {
    private final Profile profile;
    private final Program program;

    /** A qualification to this profile. */
    public Qualification(Profile profile) {
        this.profile = profile;
        this.program = profile.plan().program();
    }

    /** About how many points a healthy unit of this profile gives, for the time left. */
    public static int expectedPoints(Profile profile) {
        Program program = profile.plan().program();
        int ofUnit = program.has(Procedure.CROSS_REGULATION) ? CrossRegulation.points(profile) : 0;
        return ofUnit
                + profile.rails().stream()
                        .mapToInt(rail -> ofRail(profile, rail))
                        .sum();
    }

    private static int ofRail(Profile profile, Rail rail) {
        int points = 1;
        for (Procedure procedure : profile.plan().program().procedures()) {
            points += switch (procedure) {
                case CROSS_REGULATION -> 0;
                case FIRST_POWER_UP -> FirstPowerUp.points(profile);
                case LOAD_SWEEP -> LoadSweep.points(profile);
                case LINE_SWEEP -> LineSweep.points(profile);
                case DROPOUT_LINE -> DropoutLine.expectedPoints();
                case LOAD_STEP -> LoadStep.POINTS;
                case HOLD_UP -> profile.plan().program().holdUp().phases();
                case START_UP -> LineOffAndOn.START_POINTS;
                case CURRENT_LIMIT -> CurrentLimitSearch.expectedPoints(profile, rail) + 1;
            };
        }
        return points;
    }

    @Override
    public void on(Bench bench) throws RunEndException {
        for (Rail rail : profile.rails()) {
            bench.envelope(rail.name(), envelope(rail));
        }
        Readings readings = new Readings(bench, profile);
        if (program.has(Procedure.FIRST_POWER_UP)) {
            new FirstPowerUp(bench, profile, readings).run();
        }
        NoLoadCheck noLoad = new NoLoadCheck(bench, profile, readings);
        noLoad.powerUp();
        List<Rail> sound = new ArrayList<>();
        for (Rail rail : profile.rails()) {
            if (noLoad.usable(rail) && rail(bench, readings, rail)) {
                sound.add(rail);
            }
        }
        if (program.has(Procedure.CROSS_REGULATION)) {
            new CrossRegulation(bench, profile, readings).run(sound);
        }
        bench.lineOff();
    }

    /** All that is done to one rail; returns whether it carries its rated current. */
    private boolean rail(Bench bench, Readings readings, Rail rail) throws RunEndException {
        boolean carries = true;
        double carriedA = 0;
        if (program.has(Procedure.LOAD_SWEEP)) {
            carriedA = loadSweep(bench, readings, rail);
            carries = carriedA >= rail.ratedCurrentA();
        }
        if (carries) {
            atFullLoad(bench, readings, rail);
        } else {
            bench.note(
                    RunEvent.Note.Level.WARNING,
                    rail.name() + " does not carry its rated current; nothing else is done at full load");
        }
        if (program.has(Procedure.CURRENT_LIMIT)) {
            new CurrentLimitSearch(bench, profile, readings).run(rail, carriedA);
        }
        return carries;
    }

    private double loadSweep(Bench bench, Readings readings, Rail rail) throws RunEndException {
        List<Rail> others =
                profile.rails().stream().filter(other -> !other.equals(rail)).toList();
        Loading loading = new Loading(bench, profile);
        if (program.othersLoadRatio() == 0 || others.isEmpty()) {
            return new LoadSweep(bench, profile, readings).run(rail);
        }
        if (loading.anyShared(profile.rails())) {
            bench.note(
                    RunEvent.Note.Level.WARNING,
                    rail.name() + " is swept with the others unloaded: this rig has no load for every rail");
            return new LoadSweep(bench, profile, readings).run(rail);
        }
        loading.others(rail, others);
        double carriedA = new LoadSweep(bench, profile, readings).run(rail);
        loading.off(others);
        return carriedA;
    }

    private void atFullLoad(Bench bench, Readings readings, Rail rail) throws RunEndException {
        if (program.has(Procedure.LINE_SWEEP)) {
            new LineSweep(bench, profile, readings).run(rail);
        }
        if (program.has(Procedure.DROPOUT_LINE)) {
            new DropoutLine(bench, profile, readings).run(rail);
        }
        if (program.has(Procedure.LOAD_STEP)) {
            new LoadStep(bench, profile, readings).run(rail);
        }
        new LineOffAndOn(bench, profile, readings).run(rail);
    }

    /** What the rail may do: 5 % above the largest current ever asked for, because the load's own limit has errors. */
    static Envelope envelope(Rail rail) {
        return new Envelope(rail.nominalV(), rail.overVoltageV(), 1.05 * rail.maxProbeCurrentA());
    }
}
