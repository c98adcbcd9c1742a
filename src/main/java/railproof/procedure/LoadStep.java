package railproof.procedure;

import java.util.Locale;
import java.util.Map;
import railproof.base.Reading;
import railproof.instrument.LoadMode;
import railproof.profile.Profile;
import railproof.profile.Program.StepPlan;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.RunEndException;
import railproof.run.Quantity;
import railproof.run.Section;
import railproof.run.Waveform;

/**
 * The load switched up and down again between two currents, the output recorded through both. The load's own slew is
 * part of what is seen; a load slower than the supply flatters it.
 */
final class LoadStep {
    /** Up and down. */
    static final int POINTS = 2;

    private final Bench bench;
    private final Profile profile;
    private final Readings readings;

    LoadStep(Bench bench, Profile profile, Readings readings) {
        this.bench = bench;
        this.profile = profile;
        this.readings = readings;
    }

    /** Steps both ways, and leaves the load off. */
    void run(Rail rail) throws RunEndException {
        StepPlan plan = profile.plan().program().step();
        double lowA = Math.max(plan.lowRatio() * rail.ratedCurrentA(), rail.minimumLoadA());
        double highA = plan.highRatio() * rail.ratedCurrentA();
        bench.section(Section.LOAD_STEP, rail.name(), POINTS);
        bench.load(rail.name(), LoadMode.CURRENT, lowA);
        bench.loadInput(rail.name(), true);
        readings.settle(rail);
        step(rail, lowA, highA);
        readings.settle(rail);
        step(rail, highA, lowA);
        bench.loadInput(rail.name(), false);
    }

    private void step(Rail rail, double fromA, double toA) throws RunEndException {
        StepPlan plan = profile.plan().program().step();
        double quietS = readings.quietS();
        Waveform waveform = bench.captureDuring(
                Section.LOAD_STEP,
                rail.name(),
                new Bench.Span(quietS, plan.record().toMillis() / 1e3),
                () -> bench.load(rail.name(), LoadMode.CURRENT, toA));
        double bandV = plan.bandRatio() * Math.abs(rail.nominalV());
        Map<Quantity, Reading> seen =
                bench.workOut(() -> readings.transients(rail, waveform).step(quietS, bandV));
        seen.put(Quantity.LOAD_CURRENT, bench.loadCurrent(rail.name()));
        readings.keep(rail, waveform, seen, String.format(Locale.ROOT, "from %.4g A to %.4g A", fromA, toA));
    }
}
