package railproof.procedure;

import java.util.HashSet;
import java.util.Locale;
import java.util.Set;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.RunEndException;
import railproof.run.RunEvent;
import railproof.run.Section;

/**
 * The first power-up: line on with every load off, and every rail looked at before anything is loaded. Over-voltage and
 * wrong polarity end the run here: with the pass transistor shorted the unregulated voltage stands at the output, and a
 * load would only add damage.
 */
final class NoLoadCheck {
    /** Below this fraction of nominal there is nothing to load. */
    private static final double USABLE_RATIO = 0.5;

    private final Bench bench;
    private final Profile profile;
    private final Readings readings;
    private final Set<String> usable = new HashSet<>();

    NoLoadCheck(Bench bench, Profile profile, Readings readings) {
        this.bench = bench;
        this.profile = profile;
        this.readings = readings;
    }

    /** Switches the line on and checks every rail. */
    void powerUp() throws RunEndException {
        bench.lineOn(profile.line().nominalV(), profile.line().frequencyHz());
        new ChargingWatch(bench, profile, readings).run(Section.NO_LOAD);
        for (Rail rail : profile.rails()) {
            bench.section(Section.NO_LOAD, rail.name(), 1);
            boolean settled = readings.settle(rail);
            double outputV = readings.take(Section.NO_LOAD, rail, settled, "");
            if (Math.abs(outputV) >= USABLE_RATIO * Math.abs(rail.nominalV())) {
                usable.add(rail.name());
            } else {
                bench.note(
                        RunEvent.Note.Level.WARNING,
                        String.format(
                                Locale.ROOT,
                                "%s gives %.3g V without load, nominal %.3g V: it is not loaded",
                                rail.name(),
                                outputV,
                                rail.nominalV()));
            }
        }
    }

    /** Whether the rail gave a voltage worth loading. */
    boolean usable(Rail rail) {
        return usable.contains(rail.name());
    }
}
