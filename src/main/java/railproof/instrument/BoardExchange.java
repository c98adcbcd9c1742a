package railproof.instrument;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import railproof.base.Clock;
import railproof.wire.Decoded;
import railproof.wire.Frame;
import railproof.wire.FrameDecoder;
import railproof.wire.FrameEncoder;
import railproof.wire.FrameKind;
import railproof.wire.Link;
import railproof.wire.LinkException;
import railproof.wire.LinkTimeoutException;

/**
 * Requests and answers over a link: stop and wait, the same seq on a retry, answers matched by seq and type, everything
 * else counted as stray. The board answers a repeated request from its memory without executing it again, so a retry
 * is safe for every message. Round-trip times are smoothed as in RFC 6298; answers to retries are not measured.
 *
 * <p>Thread: control thread only. All waiting is done in {@link Link#read}.
 */
final class BoardExchange {
    /** The seq of frames sent past everything; never used by {@link #request}. */
    static final int EMERGENCY_SEQ = 0xFFFF;

    private static final int TRIES = 3;
    private static final long FIRST_RTO_NS = TimeUnit.MILLISECONDS.toNanos(100);
    private static final long MIN_RTO_NS = TimeUnit.MILLISECONDS.toNanos(50);
    private static final long MAX_RTO_NS = TimeUnit.MILLISECONDS.toNanos(500);

    /** What the owner wants to hear of while an answer is awaited. */
    interface Listener {
        /** An unasked frame: event or data. */
        void unasked(Frame frame);

        /** The answer to a heartbeat sent along the way. */
        void fed(Frame answer);

        /** The heartbeat to be sent now along the way; empty if it is not due. */
        Optional<byte[]> heartbeatDue(long nowNs);
    }

    /**
     * A request on its way.
     *
     * @param message what it is
     * @param workNs how long the board may need for it, ns
     * @param tries how often it may be sent
     */
    record Call(BoardMessage message, long workNs, int tries) {
        static Call of(BoardMessage message) {
            return new Call(message, 0, TRIES);
        }

        /** Whether the heartbeat may come due during it. Short requests do not feed: the control loop has to. */
        private boolean feeds() {
            return workNs > 0 || message == BoardMessage.CAPTURE_READ;
        }
    }

    private final Link link;
    private final Clock clock;
    private final Listener listener;
    private final FrameDecoder decoder = new FrameDecoder(4096);
    private final Deque<Decoded> inbox = new ArrayDeque<>();
    private final byte[] buffer = new byte[8192];
    private int seq;
    private int heartbeatSeq = -1;
    private long smoothedNs;
    private long variationNs;
    private long strays;
    private long noise;
    private long retries;
    private long progressNs;
    private boolean feeding;

    BoardExchange(Link link, int firstSeq, Listener listener) {
        this.link = link;
        this.clock = link.clock();
        this.listener = listener;
        this.seq = (firstSeq & 0xFFFF) % EMERGENCY_SEQ;
    }

    long strays() {
        return strays;
    }

    long noise() {
        return noise;
    }

    long retries() {
        return retries;
    }

    /** Throws away what came before, and ends whatever half frame the board may hold. */
    void begin() throws LinkException {
        link.discardInput();
        decoder.reset();
        inbox.clear();
        link.write(new byte[] {0});
    }

    /**
     * Sends a request and waits for its answer.
     *
     * @return the answer, a {@link FrameKind#RESPONSE} or a {@link FrameKind#ERROR}
     * @throws LinkTimeoutException if no answer came after all tries
     */
    Frame request(Call call, byte[] payload) throws LinkException, InterruptedException {
        int own = nextSeq();
        feeding = call.feeds();
        long startNs = clock.nowNs();
        long rtoNs = rtoNs();
        for (int attempt = 1; attempt <= call.tries(); attempt++) {
            int flags = attempt == 1 ? 0 : Frame.RETRY;
            long sentNs = clock.nowNs();
            send(new Frame(FrameKind.REQUEST, flags, own, call.message().id(), payload));
            long workLeftNs = Math.max(0, startNs + call.workNs() - sentNs);
            Optional<Frame> answer = await(own, call.message().id(), rtoNs + workLeftNs);
            if (answer.isPresent()) {
                if (attempt == 1 && call.workNs() == 0) {
                    measured(clock.nowNs() - sentNs);
                }
                return answer.get();
            }
            retries++;
            rtoNs = Math.min(2 * rtoNs, MAX_RTO_NS);
        }
        long elapsedMs = TimeUnit.NANOSECONDS.toMillis(clock.nowNs() - startNs);
        throw new LinkTimeoutException(link.name(), call.message().name(), elapsedMs, call.tries());
    }

    /** Waits for the board's work, taking in what comes and feeding the heartbeat. */
    void idle(long durationNs) throws LinkException, InterruptedException {
        feeding = true;
        await(-1, -1, durationNs);
    }

    private Optional<Frame> await(int own, int type, long timeoutNs) throws LinkException, InterruptedException {
        progressNs = clock.nowNs();
        while (true) {
            Decoded decoded = inbox.pollFirst();
            if (decoded != null) {
                Optional<Frame> answer = sort(decoded, own, type);
                if (answer.isPresent()) {
                    return answer;
                }
                continue;
            }
            Optional<byte[]> beat = feeding ? listener.heartbeatDue(clock.nowNs()) : Optional.empty();
            if (beat.isPresent()) {
                heartbeatSeq = nextSeq();
                send(new Frame(FrameKind.REQUEST, 0, heartbeatSeq, BoardMessage.HEARTBEAT.id(), beat.get()));
            }
            long leftNs = progressNs + timeoutNs - clock.nowNs();
            int count = link.read(buffer, Math.min(leftNs, MIN_RTO_NS));
            Consumer<Decoded> keep = inbox::addLast;
            decoder.feed(buffer, 0, count, keep);
            if (count == 0 && leftNs <= 0) {
                return Optional.empty();
            }
        }
    }

    private Optional<Frame> sort(Decoded decoded, int own, int type) {
        if (!(decoded instanceof Frame frame)) {
            noise++;
            return Optional.empty();
        }
        boolean answer = frame.kind() == FrameKind.RESPONSE || frame.kind() == FrameKind.ERROR;
        if (answer && frame.seq() == own && frame.type() == type) {
            return Optional.of(frame);
        }
        if (answer && frame.seq() == heartbeatSeq && frame.type() == BoardMessage.HEARTBEAT.id()) {
            heartbeatSeq = -1;
            listener.fed(frame);
        } else if (frame.kind() == FrameKind.EVENT) {
            listener.unasked(frame);
        } else if (frame.kind() == FrameKind.DATA) {
            if (own >= 0) {
                progressNs = clock.nowNs(); // a long answer is not late as long as it goes on
            }
            listener.unasked(frame);
        } else {
            strays++;
        }
        return Optional.empty();
    }

    private void send(Frame frame) throws LinkException {
        link.write(FrameEncoder.wire(frame));
    }

    private int nextSeq() {
        int own = seq;
        seq = (seq + 1) % EMERGENCY_SEQ;
        return own;
    }

    private long rtoNs() {
        if (smoothedNs == 0) {
            return FIRST_RTO_NS;
        }
        return Math.min(MAX_RTO_NS, Math.max(MIN_RTO_NS, smoothedNs + 4 * variationNs));
    }

    private void measured(long roundTripNs) {
        if (smoothedNs == 0) {
            smoothedNs = Math.max(1, roundTripNs);
            variationNs = roundTripNs / 2;
        } else {
            variationNs += (Math.abs(roundTripNs - smoothedNs) - variationNs) / 4;
            smoothedNs = Math.max(1, smoothedNs + (roundTripNs - smoothedNs) / 8);
        }
    }
}
