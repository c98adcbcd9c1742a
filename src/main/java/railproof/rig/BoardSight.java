package railproof.rig;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.DoubleSummaryStatistics;
import java.util.EnumMap;
import java.util.IntSummaryStatistics;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.instrument.BoardCapability;
import railproof.instrument.CaptureBlock;
import railproof.instrument.CaptureRequest;
import railproof.instrument.ChannelSums;
import railproof.instrument.InstrumentException;
import railproof.run.Quantity;
import railproof.run.RunOutcome;
import railproof.run.Waveform;
import railproof.wire.LinkException;

/** What the board sees, in physical units. Thread: control thread only. */
final class BoardSight {
    private static final double LOOK_RATE_HZ = 10_000;
    private static final double CAPTURE_RATE_HZ = 50_000;
    /** A tenth of a second holds 5 cycles of 50 Hz and 6 of 60 Hz: both and their harmonics average out. */
    private static final double LINE_WINDOW_S = 0.1;
    /** Two cycles of 50 Hz: enough to see whether there is mains at all. */
    static final Duration MAINS_WINDOW = Duration.ofMillis(40);
    /** A converter whose stated noise is half a code or more cannot give one code so often by chance. */
    private static final int STUCK_SAMPLES = 100;

    private final Rig rig;
    private final BenchTalk talk;
    private final BoardCapability capability;
    private final int codeBits;
    private long lastStartTicks = Long.MIN_VALUE;
    private boolean capturing;

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
     * @param outputV what the output's trace holds, V
     */
    record Capture(double rateHz, List<Waveform.Trace> traces, DoubleSummaryStatistics outputV) {}

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
        ChannelSums sums = read(channel, LINE_WINDOW_S);
        return Math.hypot(channel.value(sums.meanCode(), codeBits), alternating(channel, sums, codeBits));
    }

    /**
     * Whether mains is at the unit's inlet: the alternating part alone, since what a filter capacitor holds after the
     * line went off is no mains. Any time a board is connected, whatever its state.
     */
    static double mainsV(Rig rig) throws LinkException, InstrumentException, InterruptedException {
        Channel channel = rig.lineChannel();
        BoardCapability can = rig.board().capability();
        long periodTicks = Math.max(1, Math.round(can.tickHz() / Math.min(LOOK_RATE_HZ, can.maxRateHz())));
        int samples = (int) Math.max(2, Math.round(MAINS_WINDOW.toMillis() / 1e3 * can.tickHz() / periodTicks));
        ChannelSums sums =
                rig.board().read(1 << channel.index(), samples, periodTicks).get(0);
        return alternating(channel, sums, can.codeBits());
    }

    private static double alternating(Channel channel, ChannelSums sums, int bits) {
        return Math.sqrt(sums.sumOfSquares() / sums.samples()) * Math.abs(channel.perCode(bits));
    }

    /** Averages an output on the board. */
    Bench.Look look(Channel output, double windowS) throws RunEndException {
        ChannelSums sums = read(output, windowS);
        double meanV = output.value(sums.meanCode(), codeBits);
        double endA = output.value(sums.minCode(), codeBits);
        double endB = output.value(sums.maxCode(), codeBits);
        return new Bench.Look(meanV, meanU(output, sums), Math.min(endA, endB), Math.max(endA, endB));
    }

    /** Whether a capture was begun and is not read back yet: the board cannot average meanwhile. */
    boolean capturing() {
        return capturing;
    }

    /**
     * Says so if the lowest or highest sample stands at an end of its input's range: there the converter can say no more.
     * A mean says less: the input may have broken in the middle of it.
     */
    String rangeEnd(Channel channel, double minV, double maxV) {
        double low = channel.value(-Math.scalb(1.0, codeBits - 1), codeBits);
        double high = channel.value(Math.scalb(1.0, codeBits - 1) - 1, codeBits);
        // a channel may stand upside down
        double lowestV = Math.min(low, high);
        double highestV = Math.max(low, high);
        double nearV = 1e-3 * (highestV - lowestV);
        boolean atEnd = minV < lowestV + nearV || maxV > highestV - nearV;
        return atEnd ? " (the end of input \"" + channel.name() + "\": beyond its range, or the input is broken)" : "";
    }

    /** One reading must be later than the one before. */
    private void requireFresh(ChannelSums sums) throws RunEndException {
        if (sums.startTicks() <= lastStartTicks) {
            throw new RunEndException(
                    RunOutcome.End.FAULTED,
                    "the board gave a reading of " + sums.startTicks() + " ticks after one of " + lastStartTicks
                            + ": its readings are stale");
        }
        lastStartTicks = sums.startTicks();
    }

    /** No converter is as quiet as a broken one. */
    private void requireAlive(Channel channel, int samples, int lowest, int highest) throws RunEndException {
        boolean noisy = channel.accuracy().noiseDimensionless() >= Math.abs(channel.perCode(codeBits)) / 2;
        boolean atEnd = lowest <= -Math.scalb(1.0, codeBits - 1) || highest >= Math.scalb(1.0, codeBits - 1) - 1;
        // at an end of the range every sample is the same; what that means is for the limits to say
        if (noisy && !atEnd && samples >= STUCK_SAMPLES && lowest == highest) {
            throw new RunEndException(
                    RunOutcome.End.FAULTED,
                    String.format(
                            Locale.ROOT,
                            "input \"%s\" gave one and the same code %d in all of %d samples: its converter is stuck",
                            channel.name(),
                            lowest,
                            samples));
        }
    }

    /** Averages any channel on the board, as a reading with the channel's errors. */
    Measured average(Channel channel, double windowS, Unit unit) throws RunEndException {
        ChannelSums sums = read(channel, windowS);
        double mean = channel.value(sums.meanCode(), codeBits);
        Measured scatter = new Measured(mean, meanU(channel, sums), 0, Math.max(1, sums.samples() - 1.0), unit);
        return channel.accuracy().level(scatter, sums.samples());
    }

    private double meanU(Channel channel, ChannelSums sums) {
        double spreadCodes = Math.sqrt(sums.sumOfSquares() / Math.max(1, sums.samples() - 1));
        return spreadCodes * Math.abs(channel.perCode(codeBits)) / Math.sqrt(sums.samples());
    }

    private ChannelSums read(Channel channel, double windowS) throws RunEndException {
        talk.pulse();
        double rateHz = Math.min(LOOK_RATE_HZ, capability.maxRateHz());
        long periodTicks = Math.max(1, Math.round(capability.tickHz() / rateHz));
        int samples = (int) Math.max(2, Math.round(windowS * capability.tickHz() / periodTicks));
        ChannelSums sums = talk.exchange(() ->
                rig.board().read(1 << channel.index(), samples, periodTicks).get(0));
        requireFresh(sums);
        requireAlive(channel, sums.samples(), sums.minCode(), sums.maxCode());
        return sums;
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
        capturing = true;
        CaptureBlock block;
        try {
            deed.run();
            block = talk.exchange(rig.board()::finishCapture);
        } finally {
            capturing = false;
        }
        List<Waveform.Trace> traces = new ArrayList<>();
        DoubleSummaryStatistics outputV = new DoubleSummaryStatistics();
        for (Map.Entry<Quantity, Channel> entry : inOrder) {
            int[] codes = block.codes(entry.getValue().index());
            IntSummaryStatistics range = Arrays.stream(codes).summaryStatistics();
            requireAlive(entry.getValue(), codes.length, range.getMin(), range.getMax());
            double[] values = scale(codes, entry.getValue());
            traces.add(new Waveform.Trace(WaveformColumns.of(entry.getKey()), values));
            if (entry.getKey() == Quantity.OUTPUT) {
                outputV = Arrays.stream(values).summaryStatistics();
            }
        }
        return new Capture((double) capability.tickHz() / periodTicks, traces, outputV);
    }

    private double[] scale(int[] codes, Channel channel) {
        double[] values = new double[codes.length];
        for (int i = 0; i < codes.length; i++) {
            values[i] = channel.value(codes[i], codeBits);
        }
        return values;
    }
}
