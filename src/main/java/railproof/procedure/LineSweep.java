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
 * Full load at low, nominal and high line. The line is measured at the unit's inlet at every point: what was asked of a
 * source or a hand is not evidence.
 */
final class LineSweep {
    /** Low, nominal, high. */
    static final int POINTS = 3;

    private final Bench bench;
    private final Profile profile;
    private final Readings readings;

    LineSweep(Bench bench, Profile profile, Readings readings) {
        this.bench = bench;
        this.profile = profile;
        this.readings = readings;
    }

    /** Sweeps the line, and leaves it at nominal with the load off. */
    void run(Rail rail) throws RunEndException {
        LineRating line = profile.line();
        List<Double> linesV = List.of(line.lowV(), line.nominalV(), line.highV());
        bench.section(Section.LINE_SWEEP, rail.name(), POINTS);
        bench.load(rail.name(), LoadMode.CURRENT, rail.ratedCurrentA());
        bench.loadInput(rail.name(), true);
        for (double lineV : linesV) {
            bench.lineOn(lineV, line.frequencyHz());
            boolean settled = readings.settle(rail);
            readings.take(Section.LINE_SWEEP, rail, settled, "");
        }
        bench.loadInput(rail.name(), false);
        bench.lineOn(line.nominalV(), line.frequencyHz());
    }
}
