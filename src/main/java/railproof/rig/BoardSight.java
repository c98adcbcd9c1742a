package railproof.rig;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.instrument.BoardCapability;
import railproof.instrument.CaptureBlock;
import railproof.instrument.CaptureRequest;
import railproof.instrument.ChannelSums;
import railproof.run.Quantity;
import railproof.run.Waveform;

/** What the board sees, in physical units. Thread: control thread only. */
final class BoardSight {
    private static final double LOOK_RATE_HZ = 10_000;
    private static final double CAPTURE_RATE_HZ = 50_000;
    /** A tenth of a second holds 5 cycles of 50 Hz and 6 of 60 Hz: both and their harmonics average out. */
    private static final double LINE_WINDOW_S = 0.1;

    private final Rig rig;
    private final BenchTalk talk;
    private final BoardCapability capability;
    private final int codeBits;

    /** A sight through a board that is connected. */
    BoardSight(Rig rig, BenchTalk talk) {
        this.rig = rig;
        this.talk = talk;
        this.capability = rig.board().capability();
        this.codeBits = capability.codeBits();
    }

    /**
     * A capture.
     *
     * @param rateHz samples per second of each channel
     * @param traces one per channel
     * @param outputMeanV plain mean of the output's trace, V
     */
    record Capture(double rateHz, List<Waveform.Trace> traces, double outputMeanV) {}

    /** Voltage of a single sample. */
    double value(Channel channel, int code) {
        return channel.value(code, codeBits);
    }

    /** The code nearest to a voltage. */
    int code(Channel channel, double volts) {
        return channel.code(volts, codeBits);
    }

    /** Root mean square line voltage at the unit's inlet, V. */
    double lineV() throws RunEndException {
        Channel channel = rig.lineChannel();
        ChannelSums sums = read(1 << channel.index(), LINE_WINDOW_S).get(0);
        double meanV = channel.value(sums.meanCode(), codeBits);
        double variance = sums.sumOfSquares() / sums.samples() * channel.perCode(codeBits) * channel.perCode(codeBits);
        return Math.sqrt(meanV * meanV + variance);
    }

    /** Averages an output on the board. */
    Bench.Look look(Channel output, double windowS) throws RunEndException {
        ChannelSums sums = read(1 << output.index(), windowS).get(0);
        double meanV = output.value(sums.meanCode(), codeBits);
        double endA = output.value(sums.minCode(), codeBits);
        double endB = output.value(sums.maxCode(), codeBits);
        return new Bench.Look(meanV, meanU(output, sums), Math.min(endA, endB), Math.max(endA, endB));
    }

    /** Averages any channel on the board, as a reading with the channel's errors. */
    Measured average(Channel channel, double windowS, Unit unit) throws RunEndException {
        ChannelSums sums = read(1 << channel.index(), windowS).get(0);
        double mean = channel.value(sums.meanCode(), codeBits);
        Measured scatter = new Measured(mean, meanU(channel, sums), 0, Math.max(1, sums.samples() - 1.0), unit);
        return channel.accuracy().level(scatter, sums.samples());
    }

    private double meanU(Channel channel, ChannelSums sums) {
        double spreadCodes = Math.sqrt(sums.sumOfSquares() / Math.max(1, sums.samples() - 1));
        return spreadCodes * Math.abs(channel.perCode(codeBits)) / Math.sqrt(sums.samples());
    }

    private List<ChannelSums> read(int mask, double windowS) throws RunEndException {
        talk.pulse();
        double rateHz = Math.min(LOOK_RATE_HZ, capability.maxRateHz());
        long periodTicks = Math.max(1, Math.round(capability.tickHz() / rateHz));
        int samples = (int) Math.max(2, Math.round(windowS * capability.tickHz() / periodTicks));
        return talk.exchange(() -> rig.board().read(mask, samples, periodTicks));
    }

    /** Captures all channels of a position, and the line, at once. */
    Capture capture(Map<Quantity, Channel> position, double windowS) throws RunEndException {
        return capture(position, windowS, () -> {});
    }

    /** The same while something is done. */
    Capture capture(Map<Quantity, Channel> position, double windowS, Bench.Deed deed) throws RunEndException {
        talk.pulse();
        Map<Quantity, Channel> channels = new EnumMap<>(Quantity.class);
        channels.putAll(position);
        channels.put(Quantity.LINE, rig.lineChannel());
        // the board sends its channels in the order of their numbers
        List<Map.Entry<Quantity, Channel>> inOrder = channels.entrySet().stream()
                .sorted(Comparator.comparingInt(entry -> entry.getValue().index()))
                .toList();
        int mask = inOrder.stream()
                .mapToInt(entry -> 1 << entry.getValue().index())
                .reduce(0, (a, b) -> a | b);
        int room = capability.bufferSamples() / inOrder.size();
        double rateHz = Math.min(CAPTURE_RATE_HZ, Math.min(capability.maxRateHz(), room / windowS));
        long periodTicks = (long) Math.ceil(capability.tickHz() / rateHz - 1e-9);
        int samples = Math.min(room, (int) Math.round(windowS * capability.tickHz() / periodTicks));
        talk.exchange(() -> {
            rig.board().startCapture(CaptureRequest.now(mask, periodTicks, samples));
            return mask;
        });
        deed.run();
        CaptureBlock block = talk.exchange(rig.board()::finishCapture);
        List<Waveform.Trace> traces = new ArrayList<>();
        double outputMeanV = 0;
        for (Map.Entry<Quantity, Channel> entry : inOrder) {
            double[] values = scale(block.codes(entry.getValue().index()), entry.getValue());
            traces.add(new Waveform.Trace(WaveformColumns.of(entry.getKey()), values));
            if (entry.getKey() == Quantity.OUTPUT) {
                outputMeanV = Arrays.stream(values).average().orElse(0);
            }
        }
        return new Capture((double) capability.tickHz() / periodTicks, traces, outputMeanV);
    }

    private double[] scale(int[] codes, Channel channel) {
        double[] values = new double[codes.length];
        for (int i = 0; i < codes.length; i++) {
            values[i] = channel.value(codes[i], codeBits);
        }
        return values;
    }
}
