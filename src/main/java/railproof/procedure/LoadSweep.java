package railproof.procedure;

import java.util.List;
import railproof.instrument.LoadMode;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.RunEndException;
import railproof.run.RunEvent;
import railproof.run.Section;

/**
 * Load current swept from the smallest specified load to full load at nominal line, then back to no load. The last
 * point repeats the first: what differs between them is warming up, not load effect.
 */
final class LoadSweep {
    /** Below this fraction of nominal the output has collapsed: the load is taken off at once. */
    private static final double COLLAPSED_RATIO = 0.5;

    private final Bench bench;
    private final Profile profile;
    private final Readings readings;

    LoadSweep(Bench bench, Profile profile, Readings readings) {
        this.bench = bench;
        this.profile = profile;
        this.readings = readings;
    }

    /** Points taken: every fraction, and the return to no load. */
    static int points(Profile profile) {
        return profile.plan().loadFractions().size() + 1;
    }

    /** Sweeps; returns the largest current the rail carried without collapsing, A. */
    double run(Rail rail) throws RunEndException {
        List<Double> fractions = profile.plan().loadFractions();
        bench.section(Section.LOAD_SWEEP, rail.name(), points(profile));
        double carriedA = 0;
        for (double fraction : fractions) {
            double currentA = Math.max(fraction * rail.ratedCurrentA(), rail.minimumLoadA());
            apply(rail, currentA);
            boolean settled = readings.settle(rail);
            double outputV = bench.look(rail.name(), readings.windowS()).meanV();
            if (Math.abs(outputV) < COLLAPSED_RATIO * Math.abs(rail.nominalV())) {
                readings.take(Section.LOAD_SWEEP, rail, settled, "collapsed");
                bench.loadInput(rail.name(), false);
                bench.note(RunEvent.Note.Level.WARNING, rail.name() + " collapses at or below its rated current");
                bench.pause(profile.plan().limitCoolDown());
                return carriedA;
            }
            readings.take(Section.LOAD_SWEEP, rail, settled, "");
            carriedA = currentA;
        }
        apply(rail, rail.minimumLoadA());
        readings.take(Section.LOAD_SWEEP, rail, readings.settle(rail), "return");
        return carriedA;
    }

    private void apply(Rail rail, double currentA) throws RunEndException {
        if (currentA > 0) {
            bench.load(rail.name(), LoadMode.CURRENT, currentA);
        }
        bench.loadInput(rail.name(), currentA > 0);
    }
}
