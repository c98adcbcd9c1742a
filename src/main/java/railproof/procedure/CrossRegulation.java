package railproof.procedure;

import java.util.List;
import railproof.instrument.LoadMode;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.RunEndException;
import railproof.run.CrossNote;
import railproof.run.RunEvent;
import railproof.run.Section;

/**
 * What loading one rail does to each other: every rail in turn goes from its low to its high load while the others stand
 * at the profile's load for them, and each of them is read at both. Needs a load for every rail.
 */
final class CrossRegulation {
    private final Bench bench;
    private final Profile profile;
    private final Readings readings;
    private final Loading loading;

    CrossRegulation(Bench bench, Profile profile, Readings readings) {
        this.bench = bench;
        this.profile = profile;
        this.readings = readings;
        this.loading = new Loading(bench, profile);
    }

    /** Points taken: every ordered pair of rails, twice. */
    static int points(Profile profile) {
        int rails = profile.rails().size();
        return 2 * rails * (rails - 1);
    }

    /** Goes through all pairs, and leaves every load off. */
    void run(List<Rail> rails) throws RunEndException {
        if (rails.size() < 2) {
            return;
        }
        if (loading.anyShared(rails)) {
            bench.note(RunEvent.Note.Level.WARNING, "cross-regulation needs a load of its own on every rail; left out");
            return;
        }
        for (Rail victim : rails) {
            bench.section(Section.CROSS_REGULATION, victim.name(), 2 * (rails.size() - 1));
        }
        for (Rail aggressor : rails) {
            List<Rail> victims =
                    rails.stream().filter(rail -> !rail.equals(aggressor)).toList();
            loading.others(aggressor, victims);
            double lowA = Math.max(profile.plan().program().step().lowRatio() * aggressor.ratedCurrentA(), 0);
            pass(aggressor, victims, Math.max(lowA, aggressor.minimumLoadA()), false);
            pass(aggressor, victims, aggressor.ratedCurrentA(), true);
            bench.loadInput(aggressor.name(), false);
            loading.off(victims);
        }
    }

    private void pass(Rail aggressor, List<Rail> victims, double currentA, boolean high) throws RunEndException {
        bench.load(aggressor.name(), LoadMode.CURRENT, currentA);
        bench.loadInput(aggressor.name(), true);
        for (Rail victim : victims) {
            boolean settled = readings.settle(victim);
            readings.take(Section.CROSS_REGULATION, victim, settled, new CrossNote(aggressor.name(), high).text());
        }
    }
}
