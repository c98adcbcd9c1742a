package railproof.procedure;

import java.util.List;
import railproof.instrument.LoadMode;
import railproof.profile.LineRating;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.RunEndException;
import railproof.run.Section;

/**
 * Low, nominal and high line, at each of the profile's loads, full load last. The line is measured at the unit's inlet at every point: what was asked of a
 * source or a hand is not evidence.
 */
final class LineSweep {
    private static final int LINES = 3;

    private final Bench bench;
    private final Profile profile;
    private final Readings readings;

    LineSweep(Bench bench, Profile profile, Readings readings) {
        this.bench = bench;
        this.profile = profile;
        this.readings = readings;
    }

    /** Points taken: every load at every line. */
    static int points(Profile profile) {
        return LINES * profile.plan().program().lineLoadFractions().size();
    }

    /** Sweeps the line, and leaves it at nominal with the load off. */
    void run(Rail rail) throws RunEndException {
        LineRating line = profile.line();
        List<Double> linesV = List.of(line.lowV(), line.nominalV(), line.highV());
        bench.section(Section.LINE_SWEEP, rail.name(), points(profile));
        // the line moves least often: on many rigs it is turned by hand
        for (double lineV : linesV) {
            boolean first = true;
            for (double fraction : profile.plan().program().lineLoadFractions()) {
                double currentA = Math.max(fraction * rail.ratedCurrentA(), rail.minimumLoadA());
                bench.load(rail.name(), LoadMode.CURRENT, currentA);
                bench.loadInput(rail.name(), true);
                if (first) {
                    bench.lineOn(lineV, line.frequencyHz());
                    first = false;
                }
                readings.take(Section.LINE_SWEEP, rail, readings.settle(rail), "");
            }
        }
        bench.loadInput(rail.name(), false);
        bench.lineOn(line.nominalV(), line.frequencyHz());
    }
}
