package railproof.sim.device;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.function.Consumer;

/**
 * What the sampling requests do on the simulated board.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class CaptureCommands {
    private static final int DATA_HEADER = 12;
    private static final long LONGEST_READ_TICKS = 10_000 * SimulatedBoard.TICKS_PER_MS;
    private static final int START = 1;
    private static final int TRIGGER_NOW = 2;
    private static final int ABORT = 3;

    private final SimulatedBoard.Device device;
    private final Sampler sampler;
    private final Consumer<byte[]> data;
    private int lastId;

    CaptureCommands(SimulatedBoard.Device device, Consumer<byte[]> data) {
        this.device = device;
        this.sampler = device.sampler();
        this.data = data;
    }

    private static ByteBuffer out(int length) {
        return ByteBuffer.allocate(length).order(ByteOrder.LITTLE_ENDIAN);
    }

    private void requireFree() {
        if (device.core().state() == SafetyCore.BOOT) {
            throw new Refusal(Refusal.BAD_STATE, SafetyCore.BOOT);
        }
        if (sampler.busy()) {
            throw new Refusal(Refusal.BUSY, 0);
        }
    }

    private void requireMask(int mask) {
        Refusal.unless(mask != 0 && (mask & ~device.settings().channelMask()) == 0, 0);
    }

    void average(ByteBuffer in, long nowNs) {
        requireFree();
        int mask = in.getInt(0);
        int samples = in.getShort(4) & 0xFFFF;
        long periodTicks = in.getInt(8) & 0xFFFFFFFFL;
        requireMask(mask);
        Refusal.unless(AverageJob.answerLength(mask) <= device.settings().maxPayload(), 0);
        Refusal.unless(samples >= 1 && samples <= 4096, 4);
        Refusal.unless(periodTicks >= 5 && samples * periodTicks <= LONGEST_READ_TICKS, 8);
        long startTicks = device.time().ticks(nowNs) + 1;
        sampler.start(new AverageJob(mask, samples, periodTicks, startTicks));
    }

    byte[] configure(ByteBuffer in) {
        requireFree();
        int mask = in.getInt(0);
        int trigger = in.get(4) & 0xFF;
        int triggerChannel = in.get(5) & 0xFF;
        long periodTicks = in.getInt(8) & 0xFFFFFFFFL;
        long scans = in.getInt(12) & 0xFFFFFFFFL;
        long preScans = in.getInt(16) & 0xFFFFFFFFL;
        int level = in.getInt(20);
        long timeoutMs = in.getInt(24) & 0xFFFFFFFFL;
        boolean byLevel = trigger == Capture.LEVEL_RISE || trigger == Capture.LEVEL_FALL;
        requireMask(mask);
        Refusal.unless(trigger <= Capture.FAULT, 4);
        Refusal.unless(triggerChannel < AdcChannel.MAX_COUNT && (!byLevel || (mask >> triggerChannel & 1) != 0), 5);
        Refusal.unless(periodTicks >= 5, 8);
        Refusal.unless(
                scans >= 1
                        && scans * Integer.bitCount(mask) <= device.settings().bufferSamples(),
                12);
        Refusal.unless(preScans < scans && (trigger != Capture.IMMEDIATE || preScans == 0), 16);
        Refusal.unless(level >= Short.MIN_VALUE && level <= Short.MAX_VALUE, 20);
        Refusal.unless(timeoutMs <= 600_000, 24);
        lastId = lastId % 0xFFFF + 1;
        Capture capture = new Capture(new Capture.Plan(
                lastId, mask, trigger, triggerChannel, periodTicks, (int) scans, (int) preScans, level, timeoutMs));
        sampler.configure(capture);
        return out(20).putShort((short) lastId)
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
            requireFree();
            capture.start(device.time().ticks(nowNs) + 1);
        } else if (op == TRIGGER_NOW) {
            capture.trigger();
        } else {
            capture.abort();
        }
        return out(4).putShort((short) capture.plan().id())
                .put((byte) capture.state())
                .put((byte) 0)
                .array();
    }

    byte[] status() {
        byte[] answer = new byte[28];
        ByteBuffer out = ByteBuffer.wrap(answer).order(ByteOrder.LITTLE_ENDIAN);
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
            data.accept(out(DATA_HEADER + scans * capture.bytesPerScan())
                    .putShort((short) capture.plan().id())
                    .putShort((short) scans)
                    .putInt(capture.plan().mask())
                    .putInt(at)
                    .put(capture.bytes(at, scans))
                    .array());
            fragments++;
        }
        return out(12).putShort((short) capture.plan().id())
                .putShort((short) fragments)
                .putInt((int) offset)
                .putInt((int) count)
                .array();
    }
}
