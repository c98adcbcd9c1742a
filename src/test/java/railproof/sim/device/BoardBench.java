package railproof.sim.device;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.List;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.atomic.AtomicLong;
import railproof.wire.Decoded;
import railproof.wire.Frame;
import railproof.wire.FrameDecoder;
import railproof.wire.FrameEncoder;
import railproof.wire.FrameKind;
import railproof.wire.Link;
import railproof.wire.LinkException;

/**
 * What lies at the terminals of an emulated board: speaks the bench line of the reference firmware, answers each wish for
 * scans from a source, and tells a listener what the outputs do. The source is advanced in the order of device time, to no
 * instant that the board has not passed. A thread of its own; the source and the listener are called from it only.
 */
public final class BoardBench implements AutoCloseable {
    private static final int LEVELS = 0x7F01;
    private static final int SOURCE = 0x7F02;
    private static final int SCANS = 0x7F03;
    private static final int INPUTS = 0x7F04;
    private static final int STUCK = 0x7F05;
    private static final int HANG = 0x7F07;
    private static final int REPORT = 0x7F09;
    private static final int GRANT = 0x7F0A;
    private static final int OUTPUTS = 0x7F10;
    private static final int NEED = 0x7F11;
    private static final long PATIENCE_NS = 2_000_000;
    private static final long GRANT_EVERY_NS = 10_000_000;
    private static final int GRANTED_TICKS = 200_000;

    private final Link line;
    private final List<AdcChannel> channels;
    private final FrontEnd front;
    private final BoardOutputs outputs;
    private final Queue<byte[]> outbox = new ConcurrentLinkedQueue<>();
    private final FrameDecoder decoder = new FrameDecoder(1024);
    private final int[] codes = new int[AdcChannel.MAX_COUNT];
    private final Thread pump;
    private volatile boolean closed;
    private volatile boolean paces;
    private long grantedNs = Long.MIN_VALUE;
    private volatile boolean loadEnabled;
    private volatile int contacts;
    private final AtomicLong scansGiven = new AtomicLong();
    private final AtomicLong reports = new AtomicLong();
    private long lastTicks;
    private long offsetNs;

    /** Starts to speak. The board shows held levels until {@link #answerEveryScan}. */
    public BoardBench(Link line, List<AdcChannel> channels, AnalogSource source, BoardOutputs outputs, long seed) {
        this.line = line;
        this.channels = List.copyOf(channels);
        this.outputs = outputs;
        this.front = new FrontEnd(channels, source, seed, 0);
        pump = new Thread(this::pump, "bench-line");
        pump.setDaemon(true);
        pump.start();
    }

    /**
     * From now on the board's clock runs only as long as this thread does: 0.2 s ahead at most. A computer that stands
     * still for a while stands still for the board too.
     */
    public void pace() {
        paces = true;
    }

    /** From now on the converter shows what the source says, sample by sample. */
    public void answerEveryScan() {
        send(SOURCE, body(1).put((byte) 1));
    }

    /** Holds a voltage at an input. */
    public void hold(int channel, double inputV) {
        int code = channels.get(channel).code(inputV, 0);
        send(LEVELS, body(6).putInt(1 << channel).putShort((short) code));
    }

    /** Which digital inputs are closed. */
    public void close(int inputs) {
        send(INPUTS, body(2).putShort((short) inputs));
    }

    /** Contacts of {@code mask} stay as in {@code value}. */
    public void stick(int mask, int value) {
        send(STUCK, body(8).putInt(mask).putInt(value));
    }

    /** The firmware's main loop stops. */
    public void hang() {
        send(HANG, body(0));
    }

    /** Asks for a report of the outputs: what comes back has gone the same ways as any answer of the board. */
    public void askReport() {
        send(REPORT, body(0));
    }

    /** Reports of the outputs so far, asked for or not. */
    public long reports() {
        return reports.get();
    }

    /** Load-enable as it was last heard of. */
    public boolean loadEnabled() {
        return loadEnabled;
    }

    /** Contacts as they were last heard of. */
    public int contacts() {
        return contacts;
    }

    /** Scans given so far. */
    public long scansGiven() {
        return scansGiven.get();
    }

    private static ByteBuffer body(int length) {
        return ByteBuffer.allocate(length).order(ByteOrder.LITTLE_ENDIAN);
    }

    private void send(int type, ByteBuffer payload) {
        byte[] bytes = new byte[payload.capacity()];
        payload.rewind().get(bytes);
        outbox.add(FrameEncoder.wire(new Frame(FrameKind.REQUEST, 0, 0, type, bytes)));
    }

    private void pump() {
        byte[] buffer = new byte[4096];
        try {
            line.write(new byte[] {0});
            while (!closed) {
                long nowNs = line.clock().nowNs();
                if (paces && (grantedNs == Long.MIN_VALUE || nowNs - grantedNs >= GRANT_EVERY_NS)) {
                    grantedNs = nowNs;
                    send(GRANT, body(4).putInt(GRANTED_TICKS));
                }
                for (byte[] next = outbox.poll(); next != null; next = outbox.poll()) {
                    line.write(next);
                }
                int count = line.read(buffer, PATIENCE_NS);
                decoder.feed(buffer, 0, count, this::take);
            }
        } catch (LinkException e) {
            closed = true; // the cable was pulled or the emulator ended
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private void take(Decoded decoded) {
        if (!(decoded instanceof Frame frame)) {
            return;
        }
        ByteBuffer in = ByteBuffer.wrap(frame.payload()).order(ByteOrder.LITTLE_ENDIAN);
        if (frame.type() == OUTPUTS) {
            front.advanceTo(worldNs(in.getLong(0)));
            contacts = in.getInt(8);
            loadEnabled = in.get(12) != 0;
            outputs.relays(contacts);
            outputs.loadEnable(loadEnabled);
            reports.incrementAndGet();
        } else if (frame.type() == NEED) {
            give(in.getLong(0), in.getInt(8) & 0xFFFFFFFFL, in.getInt(12), in.getShort(16) & 0xFFFF);
        }
    }

    /** The device's clock begins at zero after each restart; the world's does not. */
    private long worldNs(long ticks) {
        if (ticks + 1_000_000 < lastTicks) {
            offsetNs += lastTicks * 1000;
        }
        lastTicks = ticks;
        return offsetNs + ticks * 1000;
    }

    private void give(long firstTicks, long periodTicks, int mask, int count) {
        int width = Integer.bitCount(mask);
        ByteBuffer out = body(12 + 2 * count * width);
        out.putLong(firstTicks).putShort((short) count).putShort((short) width);
        for (int scan = 0; scan < count; scan++) {
            front.sample(worldNs(firstTicks + scan * periodTicks), mask, codes);
            for (int c = 0; c < AdcChannel.MAX_COUNT; c++) {
                if ((mask >> c & 1) != 0) {
                    out.putShort((short) codes[c]);
                }
            }
        }
        send(SCANS, out);
        scansGiven.addAndGet(count);
    }

    @Override
    public void close() {
        closed = true;
        line.close();
    }
}
