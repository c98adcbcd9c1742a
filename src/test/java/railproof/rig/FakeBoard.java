package railproof.rig;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import railproof.base.Clock;
import railproof.instrument.BoardCapability;
import railproof.instrument.BoardState;
import railproof.instrument.BoardStatus;
import railproof.instrument.BoardTrip;
import railproof.instrument.CaptureBlock;
import railproof.instrument.CaptureRequest;
import railproof.instrument.ChannelSums;
import railproof.instrument.DaqBoard;
import railproof.instrument.Identity;
import railproof.wire.LinkDownException;
import railproof.wire.LinkException;

/** A board with one volt per 1000 codes; channel 0 is the output, channel 1 the line. */
final class FakeBoard implements DaqBoard {
    final List<String> heard = new ArrayList<>();
    final Set<String> faults = new HashSet<>();
    private final Clock clock;
    BoardState state = BoardState.SAFE;
    boolean dead;
    boolean loadEnabled;
    int relays;
    OptionalInt tripChannel = OptionalInt.empty();
    int tripCode;
    int inputs = 0xff;
    private Optional<CaptureRequest> captured = Optional.empty();
    double outputV = 5;
    /** Highest single sample of the output in a mean, above the mean, V. */
    double outputPeakV;

    double lineV = 115;
    /** Voltages on channels beyond the first two. */
    final java.util.Map<Integer, Double> furtherV = new java.util.HashMap<>();

    /** The relay's contacts are welded, or there is no relay. */
    boolean alwaysFed;
    /** Outputs keep their voltage after the line was on once. */
    boolean holdsCharge;

    /** What something else feeds into the first output, V. */
    double feedsBackV;
    /** The device clock stands still here, if not negative. */
    long frozenTicks = -1;

    private boolean wasFed;

    Runnable onRead = () -> {};

    FakeBoard(Clock clock) {
        this.clock = clock;
    }

    private void hear(String what) throws LinkException {
        heard.add(what);
        if (dead) {
            throw new LinkDownException("board", "the port is gone");
        }
    }

    private BoardStatus report() {
        return new BoardStatus(
                state, faults, 7, relays, loadEnabled, inputs, frozenTicks < 0 ? clock.nowNs() / 1000 : frozenTicks);
    }

    @Override
    public String name() {
        return "board";
    }

    @Override
    public Identity connect() throws LinkException {
        hear("connect");
        return new Identity("fake board", "B1", "1", true);
    }

    @Override
    public BoardCapability capability() {
        return new BoardCapability(2, 1_000_000, 32768, 200_000, 16, 200, 2000);
    }

    @Override
    public void arm(int heartbeatTimeoutMs) throws LinkException {
        hear("arm " + heartbeatTimeoutMs);
        state = BoardState.ARMED;
    }

    @Override
    public BoardStatus heartbeat() throws LinkException {
        hear("heartbeat");
        return report();
    }

    @Override
    public BoardStatus status() throws LinkException {
        hear("status");
        return report();
    }

    @Override
    public void relays(int mask, int value) throws LinkException {
        hear("relays " + mask + " " + value);
        relays = (relays & ~mask) | value;
        wasFed |= (relays & 1) != 0;
    }

    @Override
    public void loadEnable(boolean on) throws LinkException {
        hear("load-enable " + on);
        loadEnabled = on;
        state = on ? BoardState.ACTIVE : BoardState.ARMED;
    }

    @Override
    public void tripLimit(int channel, int lowCode, int highCode, int delayUs) throws LinkException {
        hear("limit " + channel + " " + lowCode + ".." + highCode);
    }

    @Override
    public List<ChannelSums> read(int channelMask, int samples, long periodTicks)
            throws LinkException, InterruptedException {
        hear("read");
        onRead.run();
        clock.sleepNs(samples * periodTicks * 1000);
        List<ChannelSums> sums = new ArrayList<>();
        boolean fed = (relays & 1) != 0 || alwaysFed;
        for (int channel = 0; channel < 8; channel++) {
            if ((channelMask & 1 << channel) != 0) {
                double volts = channel == 0 ? outputV : channel == 1 ? 0 : furtherV.getOrDefault(channel, 0.0);
                double code = 1000 * (fed || (holdsCharge && wasFed) ? volts : channel == 0 ? feedsBackV : 0);
                double linesRms = fed && channel == 1 ? 1000 * lineV : 0;
                double squares = samples * linesRms * linesRms;
                long ticks = clock.nowNs() / 1000 - samples * periodTicks;
                int peak = (int) (code + (channel == 0 ? 1000 * outputPeakV : 0));
                sums.add(new ChannelSums(channel, samples, code, (int) code, peak, squares, ticks));
            }
        }
        return sums;
    }

    @Override
    public void startCapture(CaptureRequest request) throws LinkException {
        hear("start capture");
        captured = Optional.of(request);
    }

    @Override
    public void triggerCapture() throws LinkException {
        hear("trigger capture");
    }

    @Override
    public void abortCapture() throws LinkException {
        hear("abort capture");
        captured = Optional.empty();
    }

    @Override
    public CaptureBlock finishCapture() throws LinkException {
        hear("finish capture");
        CaptureRequest request = captured.orElseThrow(() -> new IllegalStateException("no capture was started"));
        captured = Optional.empty();
        int[][] codes = new int[2][request.samplesPerChannel()];
        java.util.Arrays.fill(codes[0], (int) (1000 * outputV));
        return new CaptureBlock(new int[] {0, 1}, codes, 0, request.periodTicks(), request.preTriggerSamples());
    }

    @Override
    public Optional<BoardTrip> trip() throws LinkException {
        hear("trip?");
        return faults.stream().findFirst().map(fault -> new BoardTrip(fault, tripChannel, tripCode, 0));
    }

    @Override
    public void onTripped(Runnable action) {
        heard.add("on tripped");
    }

    @Override
    public BoardStatus safeState() throws LinkException {
        hear("safe-state");
        relays = 0;
        loadEnabled = false;
        state = BoardState.SAFE;
        return report();
    }

    @Override
    public boolean emergencySafe() {
        heard.add("EMERGENCY SAFE");
        return !dead;
    }

    @Override
    public void close() {
        heard.add("close");
    }
}
