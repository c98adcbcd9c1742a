package railproof.instrument;

import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import railproof.wire.Frame;
import railproof.wire.FrameKind;
import railproof.wire.Link;
import railproof.wire.LinkException;

/**
 * One contact with the board: turns answers into values or into errors in words, watches the boot id, keeps the arm
 * token and feeds the heartbeat during waits that would outlast it.
 *
 * <p>The heartbeat is fed from within the waits of the control thread, never from a timer: a control thread that hangs
 * stops feeding.
 *
 * <p>Thread: control thread only.
 */
final class BoardSession implements BoardExchange.Listener {
    private static final System.Logger LOG = System.getLogger(BoardSession.class.getName());
    private static final BoardState[] STATES = BoardState.values();

    /** {@code enum event} in PROTOCOL.md: the board has switched everything off by itself. */
    private static final int EVENT_TRIPPED = 2;

    private static final String[] RESETS = {"power on", "RESET", "watchdog", "brown-out", "reset pin", "cause unknown"};

    private final String name;
    private final BoardExchange exchange;
    private final Link link;
    private long bootId;
    private long token;
    private long timeoutNs;
    private long fedNs;
    private boolean beatRefused;
    private Consumer<Frame> data = frame -> {};
    private Runnable tripped = () -> {};

    BoardSession(String name, Link link, int firstSeq) {
        this.name = name;
        this.link = link;
        this.exchange = new BoardExchange(link, firstSeq, this);
    }

    String name() {
        return name;
    }

    BoardExchange exchange() {
        return exchange;
    }

    boolean armed() {
        return token != 0;
    }

    long token() {
        return token;
    }

    void disarmed() {
        token = 0;
        beatRefused = false;
    }

    void armed(long newToken, int timeoutMs) {
        token = newToken;
        timeoutNs = TimeUnit.MILLISECONDS.toNanos(timeoutMs);
        fedNs = link.clock().nowNs();
        beatRefused = false;
    }

    /** From now on another boot id is an error. */
    void watchBootId(long id) {
        bootId = id;
    }

    /** What is done when the board says by itself that it tripped. */
    void onTripped(Runnable action) {
        tripped = action;
    }

    /** Takes the data frames that come from now on. */
    void data(Consumer<Frame> sink) {
        data = sink;
    }

    /** A request without payload. */
    PayloadReader ask(BoardMessage message) throws LinkException, InstrumentException, InterruptedException {
        return ask(BoardExchange.Call.of(message), new byte[0]);
    }

    PayloadReader ask(BoardMessage message, PayloadWriter payload)
            throws LinkException, InstrumentException, InterruptedException {
        return ask(BoardExchange.Call.of(message), payload.bytes());
    }

    PayloadReader ask(BoardExchange.Call call, byte[] payload)
            throws LinkException, InstrumentException, InterruptedException {
        return answer(call.message(), exchange.request(call, payload));
    }

    /** The same for what the board may not have: empty if it answers NO_DATA. */
    Optional<PayloadReader> askIfThere(BoardMessage message, PayloadWriter payload)
            throws LinkException, InstrumentException, InterruptedException {
        Frame frame = exchange.request(BoardExchange.Call.of(message), payload.bytes());
        byte[] bytes = frame.payload();
        boolean none = frame.kind() == FrameKind.ERROR
                && bytes.length >= 2
                && FieldType.U16.read(bytes, 0) == BoardErrorCode.NO_DATA.code();
        return none ? Optional.empty() : Optional.of(answer(message, frame));
    }

    private PayloadReader answer(BoardMessage message, Frame frame) throws InstrumentException {
        byte[] payload = frame.payload();
        if (frame.kind() == FrameKind.ERROR) {
            int code = payload.length < 2 ? 0 : (int) FieldType.U16.read(payload, 0);
            int detail = payload.length < 4 ? 0 : (int) FieldType.U16.read(payload, 2);
            throw new InstrumentException(name, message.name(), "an answer", BoardErrorCode.describe(code, detail));
        }
        PayloadLayout layout = message.layout(FrameKind.RESPONSE);
        if (payload.length < layout.fixedLength()) {
            throw new InstrumentException(
                    name,
                    message.name(),
                    "at least " + layout.fixedLength() + " bytes of answer",
                    payload.length + " bytes");
        }
        return layout.reader(payload);
    }

    /** Sends a heartbeat with the present token and checks that the board took it. */
    BoardStatus beat() throws LinkException, InstrumentException, InterruptedException {
        long sentNs = link.clock().nowNs();
        fedNs = sentNs; // not again from within the wait for this very answer
        PayloadReader answer = ask(BoardMessage.HEARTBEAT, beatPayload());
        BoardStatus status = status(answer);
        if (armed() && answer.get("fed") == 0 && status.state() != BoardState.TRIPPED) {
            throw new InstrumentException(
                    name, "HEARTBEAT", "the arm token to be accepted", "refused in state " + status.state());
        }
        return status;
    }

    private PayloadWriter beatPayload() {
        return BoardMessage.HEARTBEAT.request().set("arm_token", token);
    }

    /** What a status-bearing answer says; another boot id than at the first contact is an error. */
    BoardStatus status(PayloadReader answer) throws LinkException, InstrumentException, InterruptedException {
        long seen = answer.get("boot_id");
        if (bootId != 0 && seen != bootId) {
            int cause = ask(BoardMessage.STATUS_READ).getInt("reset_cause");
            throw new InstrumentException(
                    name,
                    "status",
                    "boot id " + bootId,
                    seen + ": the board restarted (" + (cause < RESETS.length ? RESETS[cause] : "cause " + cause)
                            + "); its settings are lost");
        }
        int state = answer.getInt("state");
        if (state >= STATES.length) {
            throw new InstrumentException(name, "status", "a state of 0 to " + (STATES.length - 1), "" + state);
        }
        return new BoardStatus(
                STATES[state],
                BoardFault.names(answer.get("faults")),
                seen,
                (int) answer.get("relays"),
                answer.get("load_enable") != 0,
                answer.getInt("inputs"),
                answer.get("ticks"));
    }

    @Override
    public Optional<byte[]> heartbeatDue(long nowNs) {
        if (!armed() || nowNs - fedNs < timeoutNs / 4) {
            return Optional.empty();
        }
        fedNs = nowNs;
        return Optional.of(beatPayload().bytes());
    }

    @Override
    public void fed(Frame answer) {
        PayloadLayout layout = BoardMessage.HEARTBEAT.layout(FrameKind.RESPONSE);
        if (answer.kind() == FrameKind.ERROR || answer.payload().length < layout.fixedLength()) {
            beatRefused = true;
            return;
        }
        PayloadReader reader = layout.reader(answer.payload());
        beatRefused = reader.get("fed") == 0 || (bootId != 0 && reader.get("boot_id") != bootId);
    }

    private static boolean tripEvent(Frame frame) {
        PayloadLayout layout = BoardMessage.EVENT.layout(FrameKind.EVENT);
        return frame.type() == BoardMessage.EVENT.id()
                && frame.payload().length >= layout.fixedLength()
                && layout.reader(frame.payload()).getInt("event") == EVENT_TRIPPED;
    }

    /** Fails if a heartbeat sent along the way of a long job was not accepted. */
    void requireFed() throws LinkException, InstrumentException, InterruptedException {
        if (armed() && beatRefused) {
            BoardStatus status = beat(); // tells a restart, a trip and a wrong token apart
            throw new InstrumentException(
                    name, "HEARTBEAT", "an armed board", "state " + status.state() + ", faults " + status.faults());
        }
    }

    @Override
    public void unasked(Frame frame) {
        if (frame.kind() == FrameKind.DATA) {
            data.accept(frame);
        } else if (tripEvent(frame)) {
            tripped.run();
        } else {
            LOG.log(System.Logger.Level.DEBUG, () -> name + ": " + frame);
        }
    }
}
