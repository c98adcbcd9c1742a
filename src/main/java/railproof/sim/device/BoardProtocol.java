package railproof.sim.device;

import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import railproof.wire.Frame;
import railproof.wire.FrameKind;
import railproof.wire.Noise;

/**
 * Requests in, answers and events out: sequence numbers, the memory of answers, error answers. What each request does
 * is in {@link BoardCommands}, {@link CaptureCommands}, {@link StreamCommands} and {@link UpkeepCommands}.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class BoardProtocol {
    static final int STATE_CHANGED = 1;
    static final int TRIPPED = 2;
    static final int CAPTURE_DONE = 3;
    static final int BOOTED = 4;

    private static final int IDENTIFY = 0x0001;
    private static final int SAFE_STATE = 0x0011;
    private static final int RELAY_SET = 0x0020;
    private static final int LOAD_ENABLE_SET = 0x0021;
    private static final int ANALOG_READ = 0x0030;
    private static final int CAPTURE_READ = 0x0034;
    private static final int EVENT = 0x0080;
    private static final int SAMPLE_DATA = 0x0081;

    /** What was counted since the reset. */
    static final class Counters {
        int rxFrames;
        int txFrames;
        int crcErrors;
        int cobsErrors;
        int overlong;
        int malformed;
        int repeats;
    }

    private final SimulatedBoard.Device device;
    private final Consumer<Frame> sender;
    private final ReplyCache cache = new ReplyCache();
    private final BoardCommands commands;
    private final CaptureCommands captures;
    private final StreamCommands streams;
    private final UpkeepCommands upkeep;
    private Counters counters = new Counters();
    private Optional<ReplyCache.Key> averaging = Optional.empty();
    private int eventSeq;
    private int dataSeq;
    private long executions;
    private boolean booted;

    BoardProtocol(SimulatedBoard.Device device, Consumer<Frame> sender) {
        this.device = device;
        this.sender = sender;
        this.commands = new BoardCommands(device);
        this.captures = new CaptureCommands(device, this::data);
        this.streams = new StreamCommands(device, this::data);
        this.upkeep = new UpkeepCommands(device);
    }

    void restart(int cause, long bootId, int tokenSeed) {
        cache.clear();
        averaging = Optional.empty();
        counters = new Counters();
        eventSeq = 0;
        dataSeq = 0;
        booted = true;
        commands.restart(cause, bootId, tokenSeed);
    }

    boolean resetAsked() {
        return commands.takeResetAsked();
    }

    long executions() {
        return executions;
    }

    void count(Noise.Reason reason) {
        switch (reason) {
            case CRC -> counters.crcErrors++;
            case COBS -> counters.cobsErrors++;
            case OVERLONG -> counters.overlong++;
            case SHORT, LENGTH, VERSION, KIND, FLAGS -> counters.malformed++;
        }
    }

    void handle(Frame request, long nowNs) {
        if (request.kind() != FrameKind.REQUEST) {
            counters.malformed++;
            return;
        }
        counters.rxFrames++;
        ReplyCache.Key key = ReplyCache.Key.of(request);
        if (averaging.isPresent() && averaging.get().equals(key)) {
            counters.repeats++; // the answer comes when the samples are taken
            return;
        }
        if (request.type() == IDENTIFY && !request.has(Frame.RETRY)) {
            cache.clear(); // another host begins, its numbers mean nothing against the old ones
            device.sampler().stopStream();
        }
        boolean everAnew = request.type() == SAFE_STATE || request.type() == CAPTURE_READ;
        Optional<List<Frame>> before = everAnew ? Optional.empty() : cache.get(key);
        if (before.isPresent()) {
            counters.repeats++;
            before.get().forEach(this::send);
            return;
        }
        execute(request, key, nowNs);
        streamed(nowNs);
    }

    private void execute(Frame request, ReplyCache.Key key, long nowNs) {
        if (request.type() == RELAY_SET || request.type() == LOAD_ENABLE_SET) {
            executions++;
        }
        Frame answer;
        try {
            if (request.type() == ANALOG_READ) {
                captures.average(Payloads.in(request.payload(), 12), nowNs);
                averaging = Optional.of(key);
                return;
            }
            answer = frame(FrameKind.RESPONSE, key, response(request, nowNs));
        } catch (Refusal refusal) {
            byte[] error = Payloads.out(4)
                    .putShort((short) refusal.code())
                    .putShort((short) refusal.detail())
                    .array();
            answer = frame(FrameKind.ERROR, key, error);
        }
        cache.put(key, List.of(answer));
        send(answer);
    }

    private byte[] response(Frame request, long nowNs) {
        byte[] p = request.payload();
        return switch (request.type()) {
            case IDENTIFY -> commands.identify(Payloads.in(p, 4));
            case 0x0002 -> commands.capability();
            case 0x0003 -> commands.channelInfo(Payloads.in(p, 1));
            case 0x0004 -> p;
            case 0x0005 -> commands.heartbeat(Payloads.in(p, 8), nowNs);
            case 0x0006 -> commands.clock(Payloads.in(p, 8), nowNs);
            case 0x0007 -> commands.status(nowNs);
            case 0x0008 -> countersRead();
            case 0x0010 -> commands.arm(Payloads.in(p, 12), nowNs);
            case SAFE_STATE -> commands.safeState(nowNs);
            case 0x0012 -> commands.faultRead();
            case 0x0013 -> commands.faultClear(Payloads.in(p, 4), nowNs);
            case 0x0014 -> commands.limitSet(Payloads.in(p, 16));
            case RELAY_SET -> commands.relaySet(Payloads.in(p, 12), nowNs);
            case LOAD_ENABLE_SET -> commands.loadEnableSet(Payloads.in(p, 8), nowNs);
            case 0x0031 -> captures.configure(Payloads.in(p, 28));
            case 0x0032 -> captures.control(Payloads.in(p, 4), nowNs);
            case 0x0033 -> captures.status();
            case CAPTURE_READ -> captures.read(Payloads.in(p, 12));
            case 0x0038 -> streams.start(Payloads.in(p, 12), nowNs);
            case 0x0039 -> streams.credit(Payloads.in(p, 4));
            case 0x003A -> streams.stop(Payloads.in(p, 4));
            case 0x0040 -> upkeep.read(Payloads.in(p, 4));
            case 0x0041 -> upkeep.write(Payloads.in(p, 4));
            case 0x0042 -> upkeep.commit(Payloads.in(p, 12));
            case 0x0050 -> upkeep.selfTest(Payloads.in(p, 4));
            case 0x0051 -> commands.reset(Payloads.in(p, 4));
            default -> throw new Refusal(Refusal.BAD_TYPE, 0);
        };
    }

    private byte[] countersRead() {
        return Payloads.out(32)
                .putInt(counters.rxFrames)
                .putInt(counters.txFrames)
                .putInt(counters.crcErrors)
                .putInt(counters.cobsErrors)
                .putInt(counters.overlong)
                .putInt(counters.malformed)
                .putInt(counters.repeats)
                .putInt(0)
                .array();
    }

    /** The samples of an ANALOG_READ are taken: answer it. */
    void averaged(AverageJob job) {
        averaging.ifPresent(key -> {
            Frame answer = frame(FrameKind.RESPONSE, key, job.answer());
            cache.put(key, List.of(answer));
            send(answer);
        });
        averaging = Optional.empty();
    }

    /** Sends what a stream may send now. */
    void streamed(long nowNs) {
        streams.sendDue(nowNs);
    }

    void event(int what, int detail, long nowNs) {
        if (!booted) {
            return;
        }
        boolean bootEnd = what == STATE_CHANGED && detail == SafetyCore.BOOT;
        byte[] payload = Payloads.out(16)
                .put((byte) (bootEnd ? BOOTED : what))
                .put((byte) device.core().state())
                .putShort((short) 0)
                .putInt(bootEnd ? (int) commands.bootId() : detail)
                .putLong(device.time().ticks(nowNs))
                .array();
        send(new Frame(FrameKind.EVENT, flags(), eventSeq, EVENT, payload));
        eventSeq = (eventSeq + 1) & 0xFFFF;
    }

    private void data(byte[] payload) {
        send(new Frame(FrameKind.DATA, flags(), dataSeq, SAMPLE_DATA, payload));
        dataSeq = (dataSeq + 1) & 0xFFFF;
    }

    private Frame frame(FrameKind kind, ReplyCache.Key key, byte[] payload) {
        return new Frame(kind, flags(), key.seq(), key.type(), payload);
    }

    private int flags() {
        SafetyCore core = device.core();
        boolean off = !core.loadEnable() && core.contacts() == 0;
        return (core.latched() != 0 ? Frame.FAULT_LATCHED : 0) | (off ? Frame.OUTPUTS_SAFE : 0);
    }

    private void send(Frame frame) {
        counters.txFrames++;
        sender.accept(frame);
    }
}
