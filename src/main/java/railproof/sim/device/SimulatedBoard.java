package railproof.sim.device;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Random;
import java.util.function.Consumer;
import railproof.wire.Decoded;
import railproof.wire.Frame;
import railproof.wire.FrameDecoder;
import railproof.wire.FrameEncoder;
import railproof.wire.Noise;
import railproof.wire.Peer;

/**
 * The measuring board, simulated from firmware-protocol/PROTOCOL.md: everything a host can tell over the wire, with
 * converters that are off, noisy and quantised, relays that take time, and a heartbeat that trips. It declares itself
 * by the feature bit SIMULATED.
 *
 * <p>Time is the link's clock. Whatever happens by itself happens in order and at its own instant inside
 * {@link #advanceTo}: samples, time-outs, contacts. An answer that needs samples comes when they were taken.
 *
 * <p>Thread: confined to whoever drives it.
 */
public final class SimulatedBoard implements Peer {
    /** Rate of the device clock: 1 MHz. */
    static final long TICKS_PER_MS = 1000;
    /** Shortest sample period. */
    static final int MIN_PERIOD_TICKS = 5;

    /** Why the board last started. */
    enum ResetCause {
        POWER_ON(0),
        HOST_COMMAND(1),
        WATCHDOG(2);

        private final int code;

        ResetCause(int code) {
            this.code = code;
        }
    }

    private final Random random;
    private final BoardTime time;
    private final FrontEnd front;
    private final SafetyCore core;
    private final LimitWatch limits;
    private final Sampler sampler;
    private final RecordStore store = new RecordStore();
    private final BoardProtocol protocol;
    private final FrameDecoder decoder;
    private final List<byte[]> outbox = new ArrayList<>();
    private Optional<ResetCause> resetDue = Optional.of(ResetCause.POWER_ON);
    private long nowNs = Long.MIN_VALUE;

    /**
     * A board without power; it starts when time first comes to it.
     *
     * @param source what lies at its inputs
     * @param outputs what it drives
     * @param originNs the instant of the link's clock that is zero for {@code source}
     */
    public SimulatedBoard(BoardSettings settings, AnalogSource source, BoardOutputs outputs, long originNs) {
        this.random = new Random(settings.seed());
        this.time = new BoardTime(settings.clockErrorRatio());
        this.front = new FrontEnd(settings.channels(), source, settings.seed() + 1, originNs);
        this.core = new SafetyCore(settings, outputs, front, new CoreEvents());
        this.limits = new LimitWatch(front, core, settings.channels().size());
        this.sampler = new Sampler(front, time, new JobEvents());
        this.protocol = new BoardProtocol(new Device(settings, time, core, limits, sampler, store), this::send);
        this.decoder = new FrameDecoder(settings.maxPayload());
    }

    /** Parts of the board that the protocol acts on. */
    record Device(
            BoardSettings settings,
            BoardTime time,
            SafetyCore core,
            LimitWatch limits,
            Sampler sampler,
            RecordStore store) {
        /** Refuses what needs the converter for itself. */
        void requireFree() {
            if (core.state() == SafetyCore.BOOT) {
                throw new Refusal(Refusal.BAD_STATE, SafetyCore.BOOT);
            }
            requireIdle();
        }

        void requireIdle() {
            if (sampler.busy()) {
                throw new Refusal(Refusal.BUSY, 0);
            }
        }

        /** Refuses channels that are not there; the mask is always the first field. */
        void requireMask(int mask) {
            Refusal.unless(mask != 0 && (mask & ~settings.channelMask()) == 0, 0);
        }
    }

    private final class CoreEvents implements SafetyCore.Listener {
        @Override
        public void stateChanged(int before, int now, long atNs) {
            protocol.event(BoardProtocol.STATE_CHANGED, before, atNs);
        }

        @Override
        public void tripped(int fault, long atNs) {
            sampler.capture().ifPresent(c -> c.edge(Capture.FAULT));
            protocol.event(BoardProtocol.TRIPPED, fault, atNs);
        }

        @Override
        public void loadEnableChanged(long atNs) {
            sampler.capture().ifPresent(c -> c.edge(Capture.LOAD_ENABLE_EDGE));
        }
    }

    private final class JobEvents implements Sampler.Listener {
        @Override
        public void averaged(AverageJob job, long atNs) {
            protocol.averaged(job);
        }

        @Override
        public void captured(Capture capture, long atNs) {
            protocol.event(BoardProtocol.CAPTURE_DONE, capture.plan().id(), atNs);
        }

        @Override
        public void streamed(long atNs) {
            protocol.streamed(atNs);
        }
    }

    @Override
    public void advanceTo(long targetNs, Consumer<byte[]> reply) {
        if (resetDue.isPresent()) {
            restart(resetDue.get(), Math.max(targetNs, nowNs));
        }
        while (true) {
            long nextNs = Math.min(core.nextNs(), Math.min(sampler.nextNs(), limits.nextNs(nowNs)));
            if (nextNs > targetNs) {
                break;
            }
            nowNs = Math.max(nowNs, nextNs);
            sampler.advance(nowNs);
            limits.advance(nowNs);
            core.advance(nowNs);
        }
        nowNs = Math.max(nowNs, targetNs);
        flush(reply);
    }

    private void restart(ResetCause cause, long atNs) {
        resetDue = Optional.empty();
        nowNs = atNs;
        time.reset(atNs);
        sampler.restart();
        limits.restart();
        store.open();
        decoder.reset();
        protocol.restart(cause.code, 1L + random.nextInt(Integer.MAX_VALUE), random.nextInt());
        core.boot(atNs);
        if (cause == ResetCause.WATCHDOG) {
            core.trip(SafetyCore.WATCHDOG_RESET, SafetyCore.NONE, 0, atNs);
        }
    }

    @Override
    public void receive(byte[] bytes, Consumer<byte[]> reply) {
        if (resetDue.isEmpty()) {
            decoder.feed(bytes, 0, bytes.length, this::take);
            flush(reply);
        }
    }

    private void take(Decoded decoded) {
        if (decoded instanceof Frame frame) {
            protocol.handle(frame, nowNs);
            if (protocol.resetAsked()) {
                resetDue = Optional.of(ResetCause.HOST_COMMAND);
            }
        } else if (decoded instanceof Noise noise) {
            protocol.count(noise.reason());
        }
    }

    private void send(Frame frame) {
        outbox.add(FrameEncoder.wire(frame));
    }

    private void flush(Consumer<byte[]> reply) {
        List<byte[]> frames = List.copyOf(outbox);
        outbox.clear();
        frames.forEach(reply);
    }

    @Override
    public OptionalLong nextEventNs() {
        long nextNs = Math.min(core.nextSpeechNs(), Math.min(sampler.nextSpeechNs(), limits.nextNs(nowNs)));
        return nextNs == SafetyCore.NEVER ? OptionalLong.empty() : OptionalLong.of(nextNs);
    }

    /** Cuts the power for an instant: outputs off, memory lost, another boot id. */
    public void powerCycle() {
        resetDue = Optional.of(ResetCause.POWER_ON);
    }

    /** The watchdog bites: the same, and the fault is latched while the board starts. */
    public void watchdogReset() {
        resetDue = Optional.of(ResetCause.WATCHDOG);
    }

    /**
     * Causes of faults that lie in the board itself are there from now on, or gone.
     *
     * @param faults bits of the fault table: OVERTEMPERATURE, ADC_FAULT, BROWN_OUT, INTERNAL
     */
    public void causes(int faults) {
        core.causes(faults, nowNs);
    }

    /** The write-protect switch of the stored record. */
    public void writeProtect(boolean on) {
        store.lock(on);
    }

    /** Turns a bit of the stored record over, as a worn storage cell does. */
    public void damageRecord() {
        store.damage();
    }

    /** Opens or closes a digital input, 0 to 15. All are closed at the start. */
    public void input(int index, boolean closed) {
        core.input(index, closed, nowNs);
    }

    /** Makes a relay's contacts stay as given from their next movement on, whatever the coil does. */
    public void stickRelay(int relay, boolean closed) {
        core.stick(relay, closed);
    }

    /** Breaks an analogue input, or mends it. */
    public void converterFault(int channel, ConverterFault fault) {
        front.fault(channel, fault);
    }

    /** Whether load-enable is on, seen at the terminal and not over the wire. */
    public boolean loadEnabled() {
        return core.loadEnable();
    }

    /** Contacts that have operated, seen at the terminals and not over the wire. */
    public int contacts() {
        return core.contacts();
    }

    /** How often a request that changes outputs was executed (not repeated from memory), for tests. */
    public long executions() {
        return protocol.executions();
    }
}
