package railproof.rig;

import java.time.Duration;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.instrument.LineSource;

/** The bench's line: what feeds the unit, and what it takes. Thread: control thread only. */
final class LineSide implements LineFeed.LineAccess {
    /** Steps of a programmable source are a tenth of a volt or finer; common practice, no source. */
    private static final double SOURCE_BAND_RATIO = 0.001;
    /** A source's own meter is for plausibility: 2 %, from memory of such sources. */
    private static final double SOURCE_CURRENT_U_RATIO = 0.02;

    /** Whether the line is there at all; how exact it is, the judgement looks at. */
    private static final double LINE_THERE_RATIO = 0.2;

    private static final double LINE_THERE_V = 2;

    private final Rig rig;
    private final BenchTalk talk;
    private final Operator operator;
    private final LineFeed feed;
    private final BoardSight sight;
    private final Contacts contacts;
    private double askedV;
    private boolean switchedOff;

    LineSide(Rig rig, BenchTalk talk, Operator operator, LineFeed feed, BoardSight sight, Contacts contacts) {
        this.rig = rig;
        this.talk = talk;
        this.operator = operator;
        this.feed = feed;
        this.sight = sight;
        this.contacts = contacts;
    }

    void on(double rmsV, double frequencyHz) throws RunEndException {
        rig.guard().energised(true);
        // while it changes nothing can be said of where it ought to be
        askedV = 0;
        feed.on(this, rmsV, frequencyHz);
        askedV = rmsV;
        switchedOff = false;
        if (rig.lineSource().isPresent()) {
            requireMains(); // a hand-turned line was waited for until it was there; a fixed one is taken as it is
        }
    }

    /** Ends the run if the line went away by itself: a unit without mains is not at fault for what it gives. */
    void requireStillThere() throws RunEndException {
        if (askedV > 0 && !switchedOff) {
            requireMains();
        }
    }

    /** Ends the run if mains reaches the unit although nothing was switched on. */
    void requireNoMains() throws RunEndException {
        double seenV = talk.exchange(() -> BoardSight.mainsV(rig));
        if (seenV > SafeStateLadder.MAINS_LIMIT_V) {
            throw talk.doubted(String.format(
                    Locale.ROOT,
                    "%.0f V at the unit's inlet with the line commanded off: relay contact welded, or wired past it",
                    seenV));
        }
    }

    /** A source that says it is on is believed when the board sees it. */
    private void requireMains() throws RunEndException {
        double seenV = 0;
        for (int i = 0; i < LoadSide.LOOKS; i++) {
            seenV = talk.exchange(() -> BoardSight.mainsV(rig));
            if (Math.abs(seenV - askedV) <= LINE_THERE_RATIO * askedV + LINE_THERE_V) {
                return;
            }
        }
        throw talk.doubted(String.format(
                Locale.ROOT,
                "asked for a line of %.0f V, the board sees %.1f V at the unit's inlet: fuse, relay or wiring",
                askedV,
                seenV));
    }

    void off() throws RunEndException {
        feed.off(this);
        askedV = 0;
    }

    double askedV() {
        return askedV;
    }

    boolean adjustable() {
        return rig.lineSource().isPresent() || rig.wiring().handTurned();
    }

    double bandRatio() {
        return rig.lineSource().isPresent() ? SOURCE_BAND_RATIO : rig.wiring().lineBandRatio();
    }

    boolean switchesUnderLoad() {
        return rig.lineSource().isPresent();
    }

    void switchUnderLoad(boolean on) throws RunEndException {
        LineSource source = rig.lineSource()
                .orElseThrow(() -> new IllegalStateException("this rig cannot switch the line under load"));
        if (on) {
            rig.guard().energised(true);
        } else {
            switchedOff = true;
        }
        talk.command(() -> source.output(on));
        switchedOff = !on;
    }

    Reading current() throws RunEndException {
        Optional<LineSource> source = rig.lineSource();
        if (source.isEmpty()) {
            return new Missing("the line is not fed by a source that could measure it");
        }
        OptionalDouble currentA = talk.exchange(() -> source.get().measureCurrentA());
        return currentA.isEmpty()
                ? new Missing("the line source does not measure its current")
                : Measured.of(currentA.getAsDouble(), SOURCE_CURRENT_U_RATIO * currentA.getAsDouble(), Unit.AMPERE);
    }

    @Override
    public void lineRelay(boolean on) throws RunEndException {
        contacts.relays(rig.wiring().lineRelayMask(), on);
    }

    @Override
    public double measureLineV() throws RunEndException {
        return sight.lineV();
    }

    @Override
    public void exchange(LineFeed.Exchange exchange) throws RunEndException {
        talk.command(exchange::run);
    }

    @Override
    public void show(String text) {
        operator.tell(text);
    }

    @Override
    public void withdraw() {
        operator.withdraw();
    }

    @Override
    public void pause(Duration duration) throws RunEndException {
        talk.pause(duration);
    }
}
