package railproof.instrument;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.function.IntSupplier;
import java.util.function.Predicate;
import railproof.wire.Frame;
import railproof.wire.FrameEncoder;
import railproof.wire.FrameKind;
import railproof.wire.Link;
import railproof.wire.LinkException;

/**
 * The measuring board over its framed protocol, major 1 (firmware-protocol/PROTOCOL.md).
 *
 * <p>Thread: as {@link DaqBoard}. All waiting is done in {@link Link#read}, in slices of at most 50 ms.
 */
public final class FramedDaqBoard implements DaqBoard {
    private static final System.Logger LOG = System.getLogger(FramedDaqBoard.class.getName());
    private static final int ARM_MAGIC = 0x214D5241;
    private static final int FEATURE_SIMULATED = 1;
    private static final int FEATURE_CAPTURE = 1 << 1;
    private static final long BOOT_NS = TimeUnit.SECONDS.toNanos(5);
    private static final long POLL_NS = TimeUnit.MILLISECONDS.toNanos(5);
    private static final long MARGIN_NS = TimeUnit.MILLISECONDS.toNanos(100);

    private final String name;
    private final Link link;
    private final String expectedSerial;
    private final IntSupplier nonces;
    private final BoardSession session;
    private final byte[] emergency;
    private Optional<PayloadReader> capability = Optional.empty();
    private Optional<CaptureJob> running = Optional.empty();

    /**
     * A board that was not contacted yet.
     *
     * @param expectedSerial the serial number it must have; empty for any
     * @param nonces gives another number for each arming; also the first sequence number
     */
    public FramedDaqBoard(String name, Link link, String expectedSerial, IntSupplier nonces) {
        this.name = name;
        this.link = link;
        this.expectedSerial = expectedSerial;
        this.nonces = nonces;
        this.session = new BoardSession(name, link, nonces.getAsInt());
        byte[] frame = FrameEncoder.wire(new Frame(
                FrameKind.REQUEST, 0, BoardExchange.EMERGENCY_SEQ, BoardMessage.SAFE_STATE.id(), new byte[0]));
        this.emergency = new byte[frame.length + 1]; // a delimiter first, in case half a frame is under way
        System.arraycopy(frame, 0, emergency, 1, frame.length);
    }

    @Override
    public String name() {
        return name;
    }

    @Override
    public Identity connect() throws LinkException, InstrumentException, InterruptedException {
        running = Optional.empty();
        session.disarmed();
        session.watchBootId(0);
        session.exchange().begin();
        session.ask(BoardMessage.SAFE_STATE);
        PayloadReader who = session.ask(
                BoardMessage.IDENTIFY,
                BoardMessage.IDENTIFY
                        .request()
                        .set("min_major", BoardMessage.MAJOR)
                        .set("max_major", BoardMessage.MAJOR));
        check(who);
        session.watchBootId(who.get("boot_id"));
        PayloadReader can = session.ask(BoardMessage.CAPABILITY_READ);
        capability = Optional.of(can);
        BoardStatus status = awaitStatus("leaving BOOT", s -> s.state() != BoardState.BOOT, BOOT_NS);
        if (status.state() == BoardState.TRIPPED) {
            LOG.log(System.Logger.Level.WARNING, name + " was tripped before: " + status.faults());
            clearFaults();
        }
        safeState();
        if ((can.get("features") & FEATURE_CAPTURE) != 0) {
            CaptureJob.abortLeftOver(session);
        }
        boolean simulated = (can.get("features") & FEATURE_SIMULATED) != 0;
        return new Identity(who.text("board"), who.text("serial"), who.text("build"), simulated);
    }

    private void check(PayloadReader who) throws InstrumentException {
        if (who.get("major") != BoardMessage.MAJOR) {
            throw new InstrumentException(
                    name, "IDENTIFY", "protocol major " + BoardMessage.MAJOR, "major " + who.get("major"));
        }
        if (who.get("minor") == BoardMessage.MINOR && who.get("dict_crc") != BoardMessage.tableCrc()) {
            throw new InstrumentException(
                    name,
                    "IDENTIFY",
                    String.format(Locale.ROOT, "message table checksum %08x", BoardMessage.tableCrc()),
                    String.format(
                            Locale.ROOT,
                            "%08x: the board's firmware was built from another message table",
                            who.get("dict_crc")));
        }
        if (!expectedSerial.isEmpty() && !expectedSerial.equals(who.text("serial"))) {
            throw new InstrumentException(
                    name, "IDENTIFY", "serial number " + expectedSerial, who.text("serial") + ": another board");
        }
    }

    private PayloadReader known() {
        return capability.orElseThrow(() -> new IllegalStateException(name + " was not connected"));
    }

    @Override
    public BoardCapability capability() {
        PayloadReader can = known();
        return new BoardCapability(
                can.getInt("channel_count"),
                can.get("tick_hz"),
                (int) Math.min(Integer.MAX_VALUE, can.get("buffer_samples")),
                can.get("max_rate_hz"),
                can.getInt("code_bits"),
                can.getInt("heartbeat_min_ms"),
                can.getInt("heartbeat_max_ms"));
    }

    /** Describes one input. */
    public ChannelInfo channelInfo(int channel) throws LinkException, InstrumentException, InterruptedException {
        PayloadReader info = session.ask(
                BoardMessage.CHANNEL_INFO_READ,
                BoardMessage.CHANNEL_INFO_READ.request().set("channel", channel));
        return new ChannelInfo(
                info.getInt("channel"),
                info.text("name"),
                info.getInt("bits"),
                info.get("low_uv") * 1e-6,
                info.get("high_uv") * 1e-6);
    }

    @Override
    public void arm(int heartbeatTimeoutMs) throws LinkException, InstrumentException, InterruptedException {
        PayloadReader armed = session.ask(
                BoardMessage.ARM,
                BoardMessage.ARM
                        .request()
                        .set("magic", ARM_MAGIC)
                        .set("nonce", nonces.getAsInt() & 0xFFFFFFFFL)
                        .set("timeout_ms", heartbeatTimeoutMs));
        session.armed(armed.get("arm_token"), heartbeatTimeoutMs);
    }

    @Override
    public BoardStatus heartbeat() throws LinkException, InstrumentException, InterruptedException {
        return session.beat();
    }

    @Override
    public BoardStatus status() throws LinkException, InstrumentException, InterruptedException {
        return session.status(session.ask(BoardMessage.STATUS_READ));
    }

    /**
     * Forgets latched faults whose cause is gone.
     *
     * @throws InstrumentException naming the faults that stay
     */
    public void clearFaults() throws LinkException, InstrumentException, InterruptedException {
        PayloadReader left = session.ask(
                BoardMessage.FAULT_CLEAR, BoardMessage.FAULT_CLEAR.request().set("bits", 0xFFFFFFFFL));
        if (left.get("latched") != 0) {
            throw new InstrumentException(
                    name,
                    "FAULT_CLEAR",
                    "no fault left",
                    BoardFault.names(left.get("latched")) + ", cause still there");
        }
    }

    @Override
    public Optional<BoardTrip> trip() throws LinkException, InstrumentException, InterruptedException {
        return BoardTrip.of(session.ask(BoardMessage.FAULT_READ));
    }

    /** Describes the first latched fault in words; empty text if none is latched. */
    public String faultText() throws LinkException, InstrumentException, InterruptedException {
        return trip().map(BoardTrip::text).orElse("");
    }

    @Override
    public void relays(int mask, int value) throws LinkException, InstrumentException, InterruptedException {
        PayloadReader done = session.ask(
                BoardMessage.RELAY_SET,
                BoardMessage.RELAY_SET
                        .request()
                        .set("mask", mask & 0xFFFFFFFFL)
                        .set("value", value & 0xFFFFFFFFL)
                        .set("arm_token", session.token()));
        long settleNs = TimeUnit.MILLISECONDS.toNanos(done.get("settle_ms")) + MARGIN_NS;
        awaitStatus(
                "RELAY_SET " + Integer.toBinaryString(value & mask),
                s -> (s.relays() & mask) == (value & mask),
                settleNs);
    }

    @Override
    public void loadEnable(boolean on) throws LinkException, InstrumentException, InterruptedException {
        session.status(session.ask(
                BoardMessage.LOAD_ENABLE_SET,
                BoardMessage.LOAD_ENABLE_SET
                        .request()
                        .set("on", on ? 1 : 0)
                        .set("arm_token", on ? session.token() : 0)));
        awaitStatus("LOAD_ENABLE_SET " + (on ? "on" : "off"), s -> s.loadEnabled() == on, MARGIN_NS);
    }

    /** Polls the status until it is as wanted; a status that never is, is an error with what was read last. */
    private BoardStatus awaitStatus(String what, Predicate<BoardStatus> wanted, long limitNs)
            throws LinkException, InstrumentException, InterruptedException {
        long deadlineNs = link.clock().nowNs() + limitNs;
        while (true) {
            // only a status asked for after the deadline counts against the board: an answer may have been under way
            // long
            boolean late = link.clock().nowNs() >= deadlineNs;
            BoardStatus status = status();
            if (wanted.test(status)) {
                return status;
            }
            if (late) {
                throw new InstrumentException(name, what, "read-back to follow", status.toString());
            }
            session.exchange().idle(POLL_NS);
        }
    }

    @Override
    public void tripLimit(int channel, int lowCode, int highCode, int delayUs)
            throws LinkException, InstrumentException, InterruptedException {
        PayloadReader set = session.ask(
                BoardMessage.LIMIT_SET,
                BoardMessage.LIMIT_SET
                        .request()
                        .set("channel", channel)
                        .set("enable", 1)
                        .set("low_code", lowCode)
                        .set("high_code", highCode)
                        .set("delay_us", delayUs));
        if (set.get("low_code") != lowCode || set.get("high_code") != highCode || set.get("enable") != 1) {
            throw new InstrumentException(
                    name,
                    "LIMIT_SET " + channel,
                    lowCode + " to " + highCode,
                    set.get("low_code") + " to " + set.get("high_code"));
        }
    }

    @Override
    public List<ChannelSums> read(int channelMask, int samples, long periodTicks)
            throws LinkException, InstrumentException, InterruptedException {
        return BoardAverages.read(session, known(), channelMask, samples, periodTicks);
    }

    @Override
    public void startCapture(CaptureRequest request) throws LinkException, InstrumentException, InterruptedException {
        abortCapture();
        running = Optional.of(CaptureJob.start(session, link.clock(), known(), request));
    }

    private CaptureJob started() {
        return running.orElseThrow(() -> new IllegalStateException(name + ": no capture was started"));
    }

    @Override
    public void triggerCapture() throws LinkException, InstrumentException, InterruptedException {
        started().trigger();
    }

    @Override
    public CaptureBlock finishCapture() throws LinkException, InstrumentException, InterruptedException {
        CaptureJob job = started();
        running = Optional.empty();
        return job.finish();
    }

    @Override
    public void abortCapture() throws LinkException, InstrumentException, InterruptedException {
        Optional<CaptureJob> job = running;
        running = Optional.empty();
        if (job.isPresent()) {
            job.get().abort();
        }
    }

    /** Starts a stream of samples; a capture that was not finished is given up. */
    public BoardStream stream(int channelMask, long periodTicks)
            throws LinkException, InstrumentException, InterruptedException {
        abortCapture();
        return BoardStream.start(session, link.clock(), channelMask, periodTicks);
    }

    /** What is done to the board between runs. */
    public BoardUpkeep upkeep() {
        return new BoardUpkeep(session, link.clock(), known());
    }

    @Override
    public void onTripped(Runnable action) {
        session.onTripped(action);
    }

    @Override
    public BoardStatus safeState() throws LinkException, InstrumentException, InterruptedException {
        session.disarmed();
        session.ask(BoardMessage.SAFE_STATE);
        PayloadReader can = known();
        long limitNs = TimeUnit.MILLISECONDS.toNanos(can.get("load_off_ms") + can.get("relay_settle_ms")) + MARGIN_NS;
        return awaitStatus("SAFE_STATE", s -> s.relays() == 0 && !s.loadEnabled(), limitNs);
    }

    @Override
    public boolean emergencySafe() {
        return link.emergencyWrite(emergency);
    }

    @Override
    public void close() {
        if (capability.isPresent()) {
            closeSafely();
        } else {
            emergencySafe();
        }
        link.close();
    }

    private void closeSafely() {
        try {
            safeState();
        } catch (LinkException | InstrumentException e) {
            LOG.log(System.Logger.Level.DEBUG, name + ": safe state not confirmed on closing", e);
            emergencySafe();
        } catch (InterruptedException e) {
            emergencySafe();
            Thread.currentThread().interrupt();
        }
    }

    /** What the board counted on its end of the link since its reset. */
    public BoardCounters counters() throws LinkException, InstrumentException, InterruptedException {
        PayloadReader read = session.ask(BoardMessage.COUNTERS_READ);
        return new BoardCounters(
                read.get("rx_frames"),
                read.get("tx_frames"),
                read.get("crc_errors"),
                read.get("cobs_errors"),
                read.get("overlong"),
                read.get("malformed"),
                read.get("repeats"),
                read.get("lost_events"));
    }

    /** Reads the device clock; empty if the request had to be repeated, since its answer may come from memory then. */
    public Optional<ClockReading> readClock() throws LinkException, InstrumentException, InterruptedException {
        long retries = session.exchange().retries();
        long sentNs = link.clock().nowNs();
        PayloadReader read = session.ask(
                BoardMessage.CLOCK_READ, BoardMessage.CLOCK_READ.request().set("host_opaque", sentNs));
        ClockReading reading =
                new ClockReading(sentNs, link.clock().nowNs(), read.get("rx_ticks"), read.get("tx_ticks"));
        return session.exchange().retries() == retries ? Optional.of(reading) : Optional.empty();
    }

    /** Answers that belonged to no request, noise and retries since the first contact, for the record. */
    public String linkHealth() {
        BoardExchange exchange = session.exchange();
        return exchange.strays() + " stray answers, " + exchange.noise() + " noise blocks, " + exchange.retries()
                + " retries";
    }
}
