package railproof.rig;

import java.io.IOException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalInt;
import railproof.base.Measured;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.instrument.ChannelSums;
import railproof.instrument.InstrumentException;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.wire.LinkException;

/**
 * After load and line are off: waits until what a high-voltage rail has stored is measured to be below
 * {@value #LIMIT_V} V d.c. (the limit of hazardous live voltage; IEC 61010-1 6.3, from memory, and IEC 62368-1 ES1), at
 * its output and, where the rig sees it, at its reservoir. Looks again after a while, because charge comes back out of
 * the dielectric. Says what was measured and what to do; never that anything is safe: it sees two nodes of many.
 *
 * <p>The run's end and its stop signal do not shorten it; a program that is told to end does.
 *
 * <p>Thread: control thread only.
 */
final class DischargeWatch {
    /** At or above this a rail is hazardous live, V d.c. */
    static final double LIMIT_V = 60;

    private static final int LOOK_SAMPLES = 1000;
    private static final double LOOK_RATE_HZ = 10_000;
    private static final Duration BETWEEN_LOOKS = Duration.ofMillis(500);
    private static final Duration BEFORE_LAST_LOOK = Duration.ofSeconds(5);
    private static final Duration LONGEST = Duration.ofMinutes(5);

    private static final String DO =
            "Take it for charged: wait, measure with a meter, discharge through a resistor made for it, measure again.";

    private final Rig rig;
    private final RunSink sink;
    private final Operator operator;
    private final long startNs;
    private int pointIndex;

    DischargeWatch(Rig rig, RunSink sink, Operator operator, long startNs, int pointIndex) {
        this.rig = rig;
        this.sink = sink;
        this.operator = operator;
        this.startNs = startNs;
        this.pointIndex = pointIndex;
    }

    /** Watches the rails one after the other; whatever fails ends the watch with a warning on record. */
    void over(List<RailPosition> rails) throws IOException, InterruptedException {
        if (rails.isEmpty()) {
            return;
        }
        keep(new RunEvent.SectionStarted(
                elapsedS(), Section.DISCHARGE, rails.get(0).rail(), 2 * rails.size()));
        for (RailPosition rail : rails) {
            try {
                watch(rail);
            } catch (LinkException | InstrumentException e) {
                warn(rail.rail() + ": the stored charge cannot be measured (" + e.getMessage() + "). " + DO);
            }
        }
        operator.withdraw();
    }

    private void watch(RailPosition rail) throws LinkException, InstrumentException, IOException, InterruptedException {
        Map<Quantity, Reading> seen = look(rail);
        record(rail, seen, "load and line just off");
        long endNs = rig.clock().nowNs() + LONGEST.toNanos();
        while (true) {
            if (below(seen)) {
                rig.clock().sleepNs(BEFORE_LAST_LOOK.toNanos());
                seen = look(rail);
                if (below(seen)) {
                    record(rail, seen, "measured below the limit");
                    keep(new RunEvent.Note(
                            elapsedS(),
                            RunEvent.Note.Level.INFO,
                            String.format(
                                    Locale.ROOT,
                                    "%s: %s, below %.0f V. Other parts may still be charged, and"
                                            + " charge can come back: measure where you are going to touch.",
                                    rail.rail(),
                                    words(seen),
                                    LIMIT_V)));
                    return;
                }
            }
            if (rig.stop().hurried() || rig.clock().nowNs() >= endNs) {
                record(rail, seen, "still charged");
                warn(rail.rail() + ": still " + words(seen) + " when the watch ended. " + DO);
                return;
            }
            operator.tell(String.format(
                    Locale.ROOT,
                    "Do not touch: %s still has %s stored. Waiting until below %.0f V.",
                    rail.rail(),
                    words(seen),
                    LIMIT_V));
            rig.clock().sleepNs(BETWEEN_LOOKS.toNanos());
            seen = look(rail);
        }
    }

    private Map<Quantity, Reading> look(RailPosition rail)
            throws LinkException, InstrumentException, InterruptedException {
        Map<Quantity, Reading> seen = new EnumMap<>(Quantity.class);
        for (Quantity node : List.of(Quantity.OUTPUT, Quantity.RAW)) {
            Channel channel = rail.channels().get(node);
            if (channel != null) {
                seen.put(node, read(channel));
            }
        }
        return seen;
    }

    private Measured read(Channel channel) throws LinkException, InstrumentException, InterruptedException {
        long periodTicks = Math.max(1, Math.round(rig.board().capability().tickHz() / LOOK_RATE_HZ));
        ChannelSums sums = rig.board()
                .read(1 << channel.index(), LOOK_SAMPLES, periodTicks)
                .get(0);
        int bits = rig.board().capability().codeBits();
        return channel.accuracy().level(Measured.of(channel.value(sums.meanCode(), bits), 0, Unit.VOLT), LOOK_SAMPLES);
    }

    private static boolean below(Map<Quantity, Reading> seen) {
        return seen.values().stream()
                .flatMap(reading -> reading.measured().stream())
                .allMatch(v -> Math.abs(v.value()) + 2 * v.standardU() < LIMIT_V);
    }

    private static String words(Map<Quantity, Reading> seen) {
        List<String> words = new ArrayList<>();
        seen.forEach((node, reading) -> reading.measured()
                .ifPresent(v -> words.add(String.format(
                        Locale.ROOT, "%.1f V at the %s", v.value(), node == Quantity.RAW ? "reservoir" : "output"))));
        return String.join(" and ", words);
    }

    private void record(RailPosition rail, Map<Quantity, Reading> seen, String note)
            throws IOException, InterruptedException {
        keep(new RunEvent.PointTaken(
                elapsedS(),
                new Point(
                        pointIndex++,
                        Section.DISCHARGE,
                        rail.rail(),
                        Setpoint.noLoad(0),
                        elapsedS(),
                        true,
                        seen,
                        OptionalInt.empty(),
                        note)));
    }

    private void warn(String text) throws IOException, InterruptedException {
        keep(new RunEvent.Note(elapsedS(), RunEvent.Note.Level.WARNING, text));
    }

    private double elapsedS() {
        return (rig.clock().nowNs() - startNs) / 1e9;
    }

    private void keep(RunEvent event) throws IOException, InterruptedException {
        RunSink.Receipt receipt = sink.accept(event);
        while (!receipt.kept(1000)) {
            // load and line are off by now; the disk may take its time
        }
    }
}
