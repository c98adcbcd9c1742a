package railproof.procedure;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.SortedSet;
import java.util.TreeSet;
import railproof.base.Reading;
import railproof.instrument.LoadMode;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.RunEndException;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.Section;
import railproof.run.SweepNote;
import railproof.signal.ThermalPart;

/**
 * Load current swept from the smallest specified load to full load at nominal line, and back to no load. The order is
 * fixed, because warming is part of every curve: the last point repeats the first, and what differs between them is
 * warming up, not load effect; the two are parted and noted ({@link ThermalPart}). If the profile asks for the way back, it takes every level again (hysteresis, warming),
 * and the middles of those intervals in which the curve bent on the way up.
 */
final class LoadSweep {
    /** Below this fraction of nominal the output has collapsed: the load is taken off at once. */
    private static final double COLLAPSED_RATIO = 0.5;
    /** A level this many settling bands off the line through its neighbours is a bend. */
    private static final double BEND_BANDS = 4;

    private final Bench bench;
    private final Profile profile;
    private final Readings readings;
    private Optional<ThermalPart.Level> first = Optional.empty();
    private Optional<ThermalPart.Level> last = Optional.empty();

    LoadSweep(Bench bench, Profile profile, Readings readings) {
        this.bench = bench;
        this.profile = profile;
        this.readings = readings;
    }

    /** Points taken of a straight curve: every fraction up, perhaps down, and the return to no load. */
    static int points(Profile profile) {
        int levels = profile.plan().loadFractions().size();
        return profile.plan().program().sweepBack() ? 2 * levels - 1 : levels + 1;
    }

    /** Sweeps; returns the largest current the rail carried without collapsing, A. */
    double run(Rail rail) throws RunEndException {
        bench.section(Section.LOAD_SWEEP, rail.name(), points(profile));
        List<Double> levelsA = new ArrayList<>();
        for (double fraction : profile.plan().loadFractions()) {
            levelsA.add(Math.max(fraction * rail.ratedCurrentA(), rail.minimumLoadA()));
        }
        List<Double> outputsV = new ArrayList<>();
        double carriedA = 0;
        for (double currentA : levelsA) {
            apply(rail, currentA);
            boolean settled = readings.settle(rail);
            if (Math.abs(readings.lastLookV()) < COLLAPSED_RATIO * Math.abs(rail.nominalV())) {
                readings.take(Section.LOAD_SWEEP, rail, settled, "collapsed");
                bench.loadInput(rail.name(), false);
                bench.note(RunEvent.Note.Level.WARNING, rail.name() + " collapses at or below its rated current");
                bench.pause(profile.plan().limitCoolDown());
                return carriedA;
            }
            outputsV.add(take(rail, settled, ""));
            carriedA = currentA;
        }
        Optional<ThermalPart.Level> full = last;
        if (profile.plan().program().sweepBack()) {
            for (double currentA : wayBack(rail, levelsA, outputsV)) {
                apply(rail, currentA);
                take(rail, readings.settle(rail), SweepNote.BACK);
            }
        }
        apply(rail, levelsA.get(0));
        take(rail, readings.settle(rail), SweepNote.RETURN);
        if (first.isPresent() && full.isPresent() && last.isPresent()) {
            ThermalPart parts = ThermalPart.of(first.get(), full.get(), last.get());
            bench.note(
                    RunEvent.Note.Level.INFO,
                    String.format(
                            Locale.ROOT,
                            "%s: the load takes %.2f mV off the output; warming by the sweep has changed it by %+.2f mV",
                            rail.name(),
                            1e3 * parts.loadEffectV(),
                            1e3 * parts.change().value()));
        }
        return carriedA;
    }

    /** Takes a point and keeps the output for the parting of load effect and warming. */
    private double take(Rail rail, boolean settled, String note) throws RunEndException {
        double atS = bench.elapsedS();
        return readings.take(Section.LOAD_SWEEP, rail, settled, note, seen -> {
            last = Optional.ofNullable(seen.get(Quantity.OUTPUT))
                    .flatMap(Reading::measured)
                    .map(output -> new ThermalPart.Level(atS, output.times(Math.signum(rail.nominalV()))));
            first = first.or(() -> last);
        });
    }

    /** The levels between full load and no load, falling, with a middle in either interval beside a bend. */
    private List<Double> wayBack(Rail rail, List<Double> levelsA, List<Double> outputsV) {
        double bandV = profile.plan().settleBandRatio() * Math.abs(rail.nominalV());
        SortedSet<Double> back = new TreeSet<>(Comparator.reverseOrder());
        for (int i = 1; i < levelsA.size() - 1; i++) {
            back.add(levelsA.get(i));
            double widthA = levelsA.get(i + 1) - levelsA.get(i - 1);
            double part = widthA > 0 ? (levelsA.get(i) - levelsA.get(i - 1)) / widthA : 0;
            double straightV = outputsV.get(i - 1) + part * (outputsV.get(i + 1) - outputsV.get(i - 1));
            if (Math.abs(outputsV.get(i) - straightV) > BEND_BANDS * bandV) {
                back.add((levelsA.get(i - 1) + levelsA.get(i)) / 2);
                back.add((levelsA.get(i) + levelsA.get(i + 1)) / 2);
            }
        }
        return List.copyOf(back);
    }

    private void apply(Rail rail, double currentA) throws RunEndException {
        if (currentA > 0) {
            bench.load(rail.name(), LoadMode.CURRENT, currentA);
        }
        bench.loadInput(rail.name(), currentA > 0);
    }
}
