package railproof.procedure;

import java.util.EnumMap;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import railproof.base.Measured;
import railproof.base.Reading;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.RunEndException;
import railproof.run.Quantity;
import railproof.run.RunOutcome;
import railproof.run.Section;

/**
 * Half a second after line on, looked at closely, every load off: a pass stage that is shorted puts the unregulated
 * voltage on the output. Where that is above what the rail may have, the board switches off by itself within a
 * millisecond; below it, at reduced line, two looks running decide, after less than 50 ms of data.
 */
final class ChargingWatch {
    /** A regulator needs more across its pass stage than this, V; less is a short. Two junctions less a margin. */
    private static final double PASS_DROP_V = 0.3;
    /** Below this much raw voltage nothing can be told, V. */
    private static final double TELLING_V = 3;
    /** All rails are looked at within this, s; two such rounds decide. */
    private static final double ROUND_S = 0.02;

    private static final int ROUNDS = 25;
    private static final int DECIDING = 2;

    private final Bench bench;
    private final Profile profile;
    private final Readings readings;

    ChargingWatch(Bench bench, Profile profile, Readings readings) {
        this.bench = bench;
        this.profile = profile;
        this.readings = readings;
    }

    /** Watches, and ends the run with its reason and a point on record if a pass stage is shorted. */
    void run(Section section) throws RunEndException {
        double windowS = ROUND_S / (2 * profile.rails().size());
        Map<String, Integer> suspicions = new HashMap<>();
        for (int i = 0; i < ROUNDS; i++) {
            for (Rail rail : profile.rails()) {
                // the look itself ends the run if the envelope is broken
                Map<Quantity, Reading> seen = new EnumMap<>(Quantity.class);
                seen.put(Quantity.OUTPUT, readings.output(rail, windowS));
                seen.put(Quantity.RAW, bench.average(rail.name(), Quantity.RAW, windowS));
                Optional<String> reason = shorted(rail, seen);
                int running = reason.isPresent() ? suspicions.merge(rail.name(), 1, Integer::sum) : 0;
                suspicions.put(rail.name(), running);
                if (reason.isPresent() && running >= DECIDING) {
                    readings.keep(section, rail, seen, "pass stage shorted");
                    throw new RunEndException(RunOutcome.End.TRIPPED, reason.get());
                }
            }
        }
    }

    /** Why the pass stage is taken for shorted; empty if nothing speaks for it. */
    static Optional<String> shorted(Rail rail, Map<Quantity, Reading> seen) {
        OptionalDouble rawV = magnitude(seen, Quantity.RAW);
        OptionalDouble outputV = magnitude(seen, Quantity.OUTPUT);
        if (rawV.isEmpty()
                || outputV.isEmpty()
                || rawV.getAsDouble() <= TELLING_V
                || rawV.getAsDouble() - outputV.getAsDouble() >= PASS_DROP_V) {
            return Optional.empty();
        }
        return Optional.of(String.format(
                Locale.ROOT,
                "%s: the unregulated %.4g V stand at the output (%.4g V): pass stage shorted",
                rail.name(),
                rawV.getAsDouble(),
                outputV.getAsDouble()));
    }

    /** The magnitude of a reading; empty if it is missing. */
    static OptionalDouble magnitude(Map<Quantity, Reading> seen, Quantity quantity) {
        return Optional.ofNullable(seen.get(quantity))
                .flatMap(Reading::measured)
                .map(Measured::value)
                .map(Math::abs)
                .map(OptionalDouble::of)
                .orElse(OptionalDouble.empty());
    }
}
