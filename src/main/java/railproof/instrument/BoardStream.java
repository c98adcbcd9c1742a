package railproof.instrument;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import railproof.base.Clock;
import railproof.wire.Frame;
import railproof.wire.FrameKind;
import railproof.wire.LinkException;

/**
 * Samples without end, for recordings longer than the board's memory. The board sends as many frames as it was given
 * credit for; credit is renewed while pieces are taken out, so that a caller who stops taking them stops the stream and
 * nothing else. What was lost is told with the piece after it, never asked for again: what is judged comes from blocks.
 *
 * <p>Thread: control thread only. Until {@link #stop} the board cannot read or capture.
 */
public final class BoardStream {
    private static final PayloadLayout DATA = BoardMessage.SAMPLE_DATA.layout(FrameKind.DATA);
    private static final int AT_ID = DATA.field("capture_id").offset();
    private static final int AT_OFFSET = DATA.field("offset").offset();
    private static final int AT_COUNT = DATA.field("count").offset();
    private static final int CREDIT_FRAMES = 32;
    private static final long SLICE_NS = TimeUnit.MILLISECONDS.toNanos(5);

    private final BoardSession session;
    private final Clock clock;
    private final int channels;
    private final int id;
    private final long startTicks;
    private final long periodTicks;
    private final Deque<Piece> pieces = new ArrayDeque<>();
    private long nextScan;
    private int used;
    private boolean stopped;

    private BoardStream(BoardSession session, Clock clock, int channels, PayloadReader made) {
        this.session = session;
        this.clock = clock;
        this.channels = channels;
        this.id = made.getInt("capture_id");
        this.startTicks = made.get("start_ticks");
        this.periodTicks = made.get("period_ticks");
    }

    /** Some scans without a gap. Thread: immutable by convention; the samples are handed over, not copied. */
    public static final class Piece {
        private final long firstScan;
        private final long lostBefore;
        private final int[][] codes;

        private Piece(long firstScan, long lostBefore, int[][] codes) {
            this.firstScan = firstScan;
            this.lostBefore = lostBefore;
            this.codes = codes;
        }

        /** Number of the first scan, counted from the start of the stream. */
        public long firstScan() {
            return firstScan;
        }

        /** Scans that were lost between the piece before and this one. */
        public long lostBefore() {
            return lostBefore;
        }

        /** How many scans. */
        public int scans() {
            return codes[0].length;
        }

        /** Samples of the k-th channel of the stream, channels ascending. */
        public int[] codes(int k) {
            return codes[k];
        }
    }

    /**
     * How a stream ended.
     *
     * @param scans scans taken since the start, lost ones included; modulo 2^32
     * @param dropped scans that the board lost for want of credit or time; what the line lost is not among them
     */
    public record Totals(long scans, long dropped) {}

    static BoardStream start(BoardSession session, Clock clock, int channelMask, long periodTicks)
            throws LinkException, InstrumentException, InterruptedException {
        PayloadReader made = session.ask(
                BoardMessage.STREAM_START,
                BoardMessage.STREAM_START
                        .request()
                        .set("channel_mask", channelMask & 0xFFFFFFFFL)
                        .set("period_ticks", periodTicks)
                        .set("credits", 0));
        BoardStream stream = new BoardStream(session, clock, Integer.bitCount(channelMask), made);
        if ((int) made.get("channel_mask") != channelMask || stream.periodTicks != periodTicks) {
            throw new InstrumentException(
                    session.name(),
                    "STREAM_START",
                    "channels " + Integer.toBinaryString(channelMask) + " every " + periodTicks + " ticks",
                    "channels " + Long.toBinaryString(made.get("channel_mask")) + " every " + stream.periodTicks);
        }
        session.data(stream::take);
        stream.credit(CREDIT_FRAMES);
        return stream;
    }

    /** Device time of scan 0. */
    public long startTicks() {
        return startTicks;
    }

    /**
     * The next piece; waits for it and feeds the heartbeat meanwhile.
     *
     * @return empty if none came in time
     */
    public Optional<Piece> next(long patienceNs) throws LinkException, InstrumentException, InterruptedException {
        if (stopped) {
            throw new IllegalStateException(session.name() + ": the stream was stopped");
        }
        long deadlineNs = clock.nowNs() + patienceNs;
        while (true) {
            if (used >= CREDIT_FRAMES / 2) {
                int spent = used;
                used = 0;
                credit(spent);
            }
            if (!pieces.isEmpty()) {
                return Optional.of(pieces.removeFirst());
            }
            if (clock.nowNs() >= deadlineNs) {
                renew();
                return Optional.ofNullable(pieces.pollFirst());
            }
            session.exchange().idle(SLICE_NS);
            session.requireFed();
        }
    }

    /** Frames that the line lost took their credit with them: ask how much there is. */
    private void renew() throws LinkException, InstrumentException, InterruptedException {
        long left = credit(0);
        if (left < CREDIT_FRAMES) {
            used = 0;
            credit((int) (CREDIT_FRAMES - left));
        }
    }

    private long credit(int frames) throws LinkException, InstrumentException, InterruptedException {
        return session.ask(
                        BoardMessage.STREAM_CREDIT,
                        BoardMessage.STREAM_CREDIT
                                .request()
                                .set("capture_id", id)
                                .set("credits", frames))
                .get("credits");
    }

    private void take(Frame frame) {
        byte[] payload = frame.payload();
        if (frame.type() != BoardMessage.SAMPLE_DATA.id()
                || payload.length < DATA.fixedLength()
                || FieldType.U16.read(payload, AT_ID) != id) {
            return;
        }
        int count = (int) FieldType.U16.read(payload, AT_COUNT);
        if (payload.length < DATA.fixedLength() + 2 * count * channels) {
            return;
        }
        used++;
        long gone = (FieldType.U32.read(payload, AT_OFFSET) - nextScan) & 0xFFFFFFFFL; // numbers run modulo 2^32
        int[][] codes = new int[channels][count];
        for (int scan = 0; scan < count; scan++) {
            for (int k = 0; k < channels; k++) {
                codes[k][scan] = (int) FieldType.I16.read(payload, DATA.fixedLength() + 2 * (scan * channels + k));
            }
        }
        pieces.addLast(new Piece(nextScan + gone, gone, codes));
        nextScan += gone + count;
    }

    /** Ends the stream; scans that were not sent yet are gone. */
    public Totals stop() throws LinkException, InstrumentException, InterruptedException {
        stopped = true;
        PayloadReader end = session.ask(
                BoardMessage.STREAM_STOP, BoardMessage.STREAM_STOP.request().set("capture_id", id));
        session.data(frame -> {});
        return new Totals(end.get("scans"), end.get("dropped"));
    }
}
