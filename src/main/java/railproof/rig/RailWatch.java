package railproof.rig;

import java.time.Duration;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import railproof.instrument.LoadReading;

/**
 * Watches that what is seen on the rails fits what was asked for, and that nobody relies on what was seen long ago.
 *
 * <p>Thread: control thread only.
 */
final class RailWatch {
    /** One cycle of 50 Hz. */
    private static final double LOOK_S = 0.02;
    /** A look so old still belongs to a measurement made now, s. */
    private static final double RECENT_S = 1;
    /** A rail under power is looked at this often at least, s. */
    static final int UNSEEN_S = 5;
    /** An output may still hold this part of its nominal voltage when a run begins. */
    private static final double LEFT_OVER_RATIO = 0.25;
    /** What an output holds falls by a hundredth between two looks, if nothing feeds it. */
    private static final double FALLING_RATIO = 0.99;

    /** Long enough to see an output beyond its envelope, short enough not to hold up what is being watched closely, s. */
    private static final double GLIMPSE_S = 0.005;

    private static final Duration BETWEEN_LOOKS = Duration.ofSeconds(1);

    private final Rig rig;
    private final BenchTalk talk;
    private final BoardSight sight;
    private final LoadSide loads;
    private final LineSide line;
    private final Looker looker;
    private final Map<String, Seen> seen = new HashMap<>();
    private int turn;

    /** Looks at a rail and ends the run if what it sees is outside the envelope. */
    @FunctionalInterface
    interface Looker {
        Bench.Look look(String rail, double windowS) throws RunEndException;
    }

    private record Seen(Bench.Look look, double atS) {}

    RailWatch(Rig rig, BenchTalk talk, BoardSight sight, LoadSide loads, LineSide line, Looker looker) {
        this.rig = rig;
        this.talk = talk;
        this.sight = sight;
        this.loads = loads;
        this.line = line;
        this.looker = looker;
    }

    /** Remembers what was seen just now. */
    void saw(String rail, Bench.Look look) {
        seen.put(rail, new Seen(look, talk.elapsedS()));
    }

    private double ageS(String rail) {
        Seen last = seen.get(rail);
        return last == null ? Double.POSITIVE_INFINITY : talk.elapsedS() - last.atS;
    }

    /** What the rail's load measures with its input on; ends the run if it cannot be. */
    LoadReading measured(RailPosition position) throws RunEndException {
        Seen last = seen.get(position.rail());
        Bench.Look look =
                last != null && ageS(position.rail()) < RECENT_S ? last.look : looker.look(position.rail(), LOOK_S);
        LoadReading reading = loads.measure(position);
        Optional<String> doubt = loads.doubt(position, look, reading);
        for (int i = 1; doubt.isPresent(); i++) {
            if (i == LoadSide.LOOKS) {
                throw talk.doubted(doubt.get());
            }
            // the unit may have moved between the two: both again, one right after the other
            look = looker.look(position.rail(), LOOK_S);
            reading = loads.measure(position);
            doubt = loads.doubt(position, look, reading);
        }
        return reading;
    }

    /** Before anything is switched on: no mains at the unit, and what is left on an output is going down. */
    void requireDead() throws RunEndException {
        if (!rig.lineFeed().switchesItself()) {
            return; // a variac without relay stands where the operator left it
        }
        line.requireNoMains();
        for (RailPosition position : rig.positions()) {
            double allowedV =
                    LEFT_OVER_RATIO * Math.abs(loads.envelopeOf(position).nominalV());
            double seenV = outputV(position);
            while (seenV > allowedV) {
                talk.pause(BETWEEN_LOOKS);
                double laterV = outputV(position);
                if (laterV > FALLING_RATIO * seenV) {
                    throw talk.doubted(String.format(
                            Locale.ROOT,
                            "%s has %.4g V with line and loads off, and it stays: something else feeds it",
                            position.rail(),
                            laterV));
                }
                seenV = laterV;
            }
        }
    }

    private double outputV(RailPosition position) throws RunEndException {
        return Math.abs(sight.look(position.output(), LOOK_S).meanV());
    }

    /**
     * Once a second: whether one load that is off is off, whether the line is still there, and a look at one rail nobody has looked at for long, so that
     * in no wait the host's own limits are blind for longer than {@value #UNSEEN_S} s for each rail.
     */
    void care() throws RunEndException {
        RailPosition position = rig.positions().get(turn++ % rig.positions().size());
        loads.requireOff(position);
        if (sight.capturing()) {
            return; // the board cannot average meanwhile
        }
        line.requireStillThere();
        if (line.askedV() > 0 && ageS(position.rail()) > UNSEEN_S) {
            looker.look(position.rail(), GLIMPSE_S);
        }
    }
}
