package railproof.sim.device;

import java.nio.ByteBuffer;
import java.util.function.Consumer;

/**
 * What the sampling requests do on the simulated board.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class CaptureCommands {
    static final int DATA_HEADER = 12;
    private static final long LONGEST_READ_TICKS = 10_000 * SimulatedBoard.TICKS_PER_MS;
    private static final int START = 1;
    private static final int TRIGGER_NOW = 2;
    private static final int ABORT = 3;

    private final SimulatedBoard.Device device;
    private final Sampler sampler;
    private final Consumer<byte[]> data;

    CaptureCommands(SimulatedBoard.Device device, Consumer<byte[]> data) {
        this.device = device;
        this.sampler = device.sampler();
        this.data = data;
    }

    void average(ByteBuffer in, long nowNs) {
        device.requireFree();
        int mask = in.getInt(0);
        int samples = in.getShort(4) & 0xFFFF;
        long periodTicks = in.getInt(8) & 0xFFFFFFFFL;
        device.requireMask(mask);
        Refusal.unless(AverageJob.answerLength(mask) <= device.settings().maxPayload(), 0);
        Refusal.unless(samples >= 1 && samples <= 4096, 4);
        Refusal.unless(
                periodTicks >= SimulatedBoard.MIN_PERIOD_TICKS && samples * periodTicks <= LONGEST_READ_TICKS, 8);
        long startTicks = device.time().ticks(nowNs) + 1;
        sampler.start(new AverageJob(mask, samples, periodTicks, startTicks));
    }

    byte[] configure(ByteBuffer in) {
        device.requireFree();
        int mask = in.getInt(0);
        int trigger = in.get(4) & 0xFF;
        int triggerChannel = in.get(5) & 0xFF;
        long periodTicks = in.getInt(8) & 0xFFFFFFFFL;
        long scans = in.getInt(12) & 0xFFFFFFFFL;
        long preScans = in.getInt(16) & 0xFFFFFFFFL;
        int level = in.getInt(20);
        long timeoutMs = in.getInt(24) & 0xFFFFFFFFL;
        boolean byLevel = trigger == Capture.LEVEL_RISE || trigger == Capture.LEVEL_FALL;
        device.requireMask(mask);
        Refusal.unless(trigger <= Capture.FAULT, 4);
        Refusal.unless(triggerChannel < AdcChannel.MAX_COUNT && (!byLevel || (mask >> triggerChannel & 1) != 0), 5);
        Refusal.unless(periodTicks >= SimulatedBoard.MIN_PERIOD_TICKS, 8);
        Refusal.unless(
                scans >= 1
                        && scans * Integer.bitCount(mask) <= device.settings().bufferSamples(),
                12);
        Refusal.unless(preScans < scans && (trigger != Capture.IMMEDIATE || preScans == 0), 16);
        Refusal.unless(level >= Short.MIN_VALUE && level <= Short.MAX_VALUE, 20);
        Refusal.unless(timeoutMs <= 600_000, 24);
        int id = sampler.nextId();
        Capture capture = new Capture(new Capture.Plan(
                id, mask, trigger, triggerChannel, periodTicks, (int) scans, (int) preScans, level, timeoutMs));
        sampler.configure(capture);
        return Payloads.out(20)
                .putShort((short) id)
                .putShort((short) 0)
                .putInt(mask)
                .putInt((int) periodTicks)
                .putInt((int) scans)
                .putInt((int) preScans)
                .array();
    }

    private Capture named(int id) {
        return sampler.capture().filter(c -> c.plan().id() == id).orElseThrow(() -> new Refusal(Refusal.NO_DATA, 0));
    }

    byte[] control(ByteBuffer in, long nowNs) {
        int op = in.get(2) & 0xFF;
        Capture capture = named(in.getShort(0) & 0xFFFF);
        Refusal.unless(op >= START && op <= ABORT, 2);
        if (op == START) {
            device.requireFree();
            capture.start(device.time().ticks(nowNs) + 1);
        } else if (op == TRIGGER_NOW) {
            capture.trigger();
        } else {
            capture.abort();
        }
        return Payloads.out(4)
                .putShort((short) capture.plan().id())
                .put((byte) capture.state())
                .put((byte) 0)
                .array();
    }

    byte[] status() {
        byte[] answer = new byte[28];
        ByteBuffer out = Payloads.in(answer, answer.length);
        sampler.capture().ifPresent(c -> out.putShort((short) c.plan().id())
                .put((byte) c.state())
                .put((byte) 0)
                .putInt((int) c.filled())
                .putLong(c.blockStartTicks())
                .putInt((int) c.triggerScan())
                .putInt(0)
                .putInt((int) c.blockCrc()));
        return answer;
    }

    /** SAMPLE_DATA of a capture or a stream. */
    static byte[] sampleData(int id, int mask, long firstScan, byte[] samples) {
        return Payloads.out(DATA_HEADER + samples.length)
                .putShort((short) id)
                .putShort((short) (samples.length / (2 * Integer.bitCount(mask))))
                .putInt(mask)
                .putInt((int) firstScan)
                .put(samples)
                .array();
    }

    byte[] read(ByteBuffer in) {
        Capture capture = named(in.getShort(0) & 0xFFFF);
        long offset = in.getInt(4) & 0xFFFFFFFFL;
        long count = in.getInt(8) & 0xFFFFFFFFL;
        if (capture.state() != Capture.DONE) {
            throw new Refusal(Refusal.NO_DATA, capture.state());
        }
        Refusal.unless(offset < capture.plan().scans(), 4);
        Refusal.unless(count >= 1 && offset + count <= capture.plan().scans(), 8);
        int perFragment = (device.settings().maxPayload() - DATA_HEADER) / capture.bytesPerScan();
        int fragments = 0;
        for (int at = (int) offset; at < offset + count; at += perFragment) {
            int scans = (int) Math.min(perFragment, offset + count - at);
            data.accept(sampleData(capture.plan().id(), capture.plan().mask(), at, capture.bytes(at, scans)));
            fragments++;
        }
        return Payloads.out(12)
                .putShort((short) capture.plan().id())
                .putShort((short) fragments)
                .putInt((int) offset)
                .putInt((int) count)
                .array();
    }
}
