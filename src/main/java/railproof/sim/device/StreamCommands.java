package railproof.sim.device;

import java.nio.ByteBuffer;
import java.util.function.Consumer;

/**
 * What the requests about streams do on the simulated board.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class StreamCommands {
    private final SimulatedBoard.Device device;
    private final Sampler sampler;
    private final Consumer<byte[]> data;

    StreamCommands(SimulatedBoard.Device device, Consumer<byte[]> data) {
        this.device = device;
        this.sampler = device.sampler();
        this.data = data;
    }

    byte[] start(ByteBuffer in, long nowNs) {
        device.requireFree();
        int mask = in.getInt(0);
        long periodTicks = in.getInt(4) & 0xFFFFFFFFL;
        device.requireMask(mask);
        Refusal.unless(periodTicks >= SimulatedBoard.MIN_PERIOD_TICKS, 4);
        int channels = Integer.bitCount(mask);
        BoardSettings settings = device.settings();
        Stream.Plan plan = new Stream.Plan(
                sampler.nextId(),
                mask,
                periodTicks,
                (settings.maxPayload() - CaptureCommands.DATA_HEADER) / (2 * channels),
                settings.bufferSamples() / channels);
        Stream stream = new Stream(plan, device.time().ticks(nowNs) + 1, in.getShort(8) & 0xFFFF);
        sampler.start(stream);
        return Payloads.out(20)
                .putShort((short) plan.id())
                .putShort((short) 0)
                .putInt(mask)
                .putInt((int) periodTicks)
                .putLong(stream.startTicks())
                .array();
    }

    private Stream named(int id) {
        return sampler.stream().filter(s -> s.plan().id() == id).orElseThrow(() -> new Refusal(Refusal.NO_DATA, 0));
    }

    byte[] credit(ByteBuffer in) {
        Stream stream = named(in.getShort(0) & 0xFFFF);
        return totals(stream, stream.credit(in.getShort(2) & 0xFFFF));
    }

    byte[] stop(ByteBuffer in) {
        Stream stream = named(in.getShort(0) & 0xFFFF);
        sampler.stopStream();
        return totals(stream, 0);
    }

    private static byte[] totals(Stream stream, int credits) {
        return Payloads.out(12)
                .putShort((short) stream.plan().id())
                .putShort((short) credits)
                .putInt((int) stream.taken())
                .putInt((int) stream.dropped())
                .array();
    }

    /** Sends what credit and patience allow. */
    void sendDue(long nowNs) {
        sampler.stream().ifPresent(stream -> {
            while (stream.due(device.time().ticks(nowNs))) {
                long firstScan = stream.oldestScan();
                data.accept(CaptureCommands.sampleData(
                        stream.plan().id(), stream.plan().mask(), firstScan, stream.send()));
            }
        });
    }
}
