package railproof.procedure;

import java.util.EnumMap;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.Accuracy;
import railproof.rig.Bench;
import railproof.rig.RunEndException;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.Section;
import railproof.run.Waveform;

/** Rows of a burn-in: short looks often, full readings now and then, captures kept up to a bound. */
final class BurnInReadings {
    /** Captures are large: more than this are measured and forgotten. Start, hot and cooled readings come on top. */
    private static final int MOST_WAVEFORMS = 100;
    /** A heat sink takes minutes to change. */
    private static final double SINK_S = 0.02;

    private final Bench bench;
    private final Profile profile;
    private final Readings readings;
    private int kept;

    BurnInReadings(Bench bench, Profile profile, Readings readings, int kept) {
        this.bench = bench;
        this.profile = profile;
        this.readings = readings;
        this.kept = kept;
    }

    /** A short look at output, current and heat sink, recorded. */
    Map<Quantity, Reading> look(Rail rail, double loadedS, String note) throws RunEndException {
        Map<Quantity, Reading> row = new EnumMap<>(Quantity.class);
        row.put(Quantity.OUTPUT, readings.output(rail, readings.windowS()));
        row.put(Quantity.LOAD_CURRENT, bench.loadCurrent(rail.name()));
        row.put(Quantity.HEAT_SINK, bench.average(rail.name(), Quantity.HEAT_SINK, SINK_S));
        if (row.get(Quantity.HEAT_SINK) instanceof Missing) {
            row.remove(Quantity.HEAT_SINK);
        }
        record(Section.BURN_IN, rail, loadedS, row, OptionalInt.empty(), note);
        return row;
    }

    /** A full reading with ripple, recorded; its capture is kept if there is room or if it must be. */
    Point full(Section section, Rail rail, double loadedS, boolean mustKeep, String note) throws RunEndException {
        double windowS = (profile.plan().lineCycles() + 0.5) / profile.line().frequencyHz();
        Reading current = bench.loadCurrent(rail.name());
        Waveform waveform = bench.capture(section, rail.name(), windowS);
        Map<Quantity, Accuracy> accuracies = bench.accuracies(rail.name());
        Map<Quantity, Reading> row = bench.workOut(() -> readings.read(waveform, accuracies));
        row.put(Quantity.LOAD_CURRENT, current);
        boolean keep = mustKeep || kept < MOST_WAVEFORMS;
        if (keep) {
            bench.record(waveform);
            kept++;
        }
        OptionalInt id = keep ? OptionalInt.of(waveform.id()) : OptionalInt.empty();
        return record(section, rail, loadedS, row, id, note);
    }

    private Point record(
            Section section, Rail rail, double loadedS, Map<Quantity, Reading> row, OptionalInt waveform, String note)
            throws RunEndException {
        Readings.withLeadDrop(bench, rail, row);
        row.put(Quantity.LOADED_TIME, Measured.of(loadedS, 0, Unit.SECOND));
        Point point = new Point(
                bench.nextPointIndex(),
                section,
                rail.name(),
                bench.asked(rail.name()),
                bench.elapsedS(),
                true,
                row,
                waveform,
                note);
        bench.record(point);
        return point;
    }

    static OptionalDouble value(Map<Quantity, Reading> row, Quantity quantity) {
        Reading reading = row.get(quantity);
        return reading == null
                ? OptionalDouble.empty()
                : reading.measured()
                        .map(measured -> OptionalDouble.of(measured.value()))
                        .orElse(OptionalDouble.empty());
    }
}
