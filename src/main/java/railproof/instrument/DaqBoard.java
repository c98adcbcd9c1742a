package railproof.instrument;

import java.util.List;
import java.util.Optional;
import railproof.wire.LinkException;

/**
 * The measuring board: analogue inputs, relays, load-enable, heartbeat. It is the device that makes the bench safe when
 * the host dies.
 *
 * <p>Thread: control thread only, except {@link #emergencySafe()}.
 */
public interface DaqBoard {
    /** The name the rig file gives it. */
    String name();

    /**
     * First contact: SAFE_STATE before anything else, then identity, capability, status; refuses a board with another
     * serial number or an incompatible protocol.
     */
    Identity connect() throws LinkException, InstrumentException, InterruptedException;

    /** What the board can do; known after {@link #connect()}. */
    BoardCapability capability();

    /**
     * Arms the outputs; from now on the heartbeat must be fed.
     *
     * @param heartbeatTimeoutMs silence after which the board makes itself safe, ms
     */
    void arm(int heartbeatTimeoutMs) throws LinkException, InstrumentException, InterruptedException;

    /** Feeds the heartbeat and reads state, faults and boot id. A changed boot id is an {@link InstrumentException}. */
    BoardStatus heartbeat() throws LinkException, InstrumentException, InterruptedException;

    /** Reads the full status without feeding the heartbeat. */
    BoardStatus status() throws LinkException, InstrumentException, InterruptedException;

    /** Switches relays: those in {@code mask} to their bit in {@code value}. */
    void relays(int mask, int value) throws LinkException, InstrumentException, InterruptedException;

    /** Switches load-enable, the contactor between unit and load. */
    void loadEnable(boolean on) throws LinkException, InstrumentException, InterruptedException;

    /** Sets a limit the board itself trips on. Codes, because the board knows no volts. */
    void tripLimit(int channel, int lowCode, int highCode, int delayUs)
            throws LinkException, InstrumentException, InterruptedException;

    /**
     * Averages channels over {@code samples} samples. Blocks for the sampling time.
     *
     * @param channelMask bit i set: channel i is read; bit 31, the sign, is channel 31
     */
    List<ChannelSums> read(int channelMask, int samples, long periodTicks)
            throws LinkException, InstrumentException, InterruptedException;

    /** Makes a block capture and reads it back whole, asking again for lost fragments. */
    default CaptureBlock capture(CaptureRequest request)
            throws LinkException, InstrumentException, InterruptedException {
        startCapture(request);
        return finishCapture();
    }

    /**
     * Starts a block capture and returns while the board samples and waits for the trigger, so that the caller can do
     * what is to be captured: switch a load, switch load-enable, or {@link #triggerCapture}. A capture that was not
     * finished before is given up.
     *
     * <p>Until {@link #finishCapture} or {@link #abortCapture} the board cannot {@link #read}: it answers BUSY. The
     * heartbeat is the caller's business meanwhile, as at any other time.
     */
    void startCapture(CaptureRequest request) throws LinkException, InstrumentException, InterruptedException;

    /**
     * Triggers the capture by hand: the board's next sample is the trigger sample. Without effect on a capture whose
     * trigger has fallen already.
     *
     * @throws IllegalStateException if no capture was started
     */
    void triggerCapture() throws LinkException, InstrumentException, InterruptedException;

    /**
     * Waits until the capture is complete and reads it back whole, asking again for lost fragments; feeds the heartbeat
     * meanwhile.
     *
     * @throws InstrumentException if the trigger did not come in time, or samples were lost on the board
     * @throws IllegalStateException if no capture was started
     */
    CaptureBlock finishCapture() throws LinkException, InstrumentException, InterruptedException;

    /** Gives the capture up; without effect if none was started. */
    void abortCapture() throws LinkException, InstrumentException, InterruptedException;

    /** Why the board switched everything off by itself; empty if it did not. */
    Optional<BoardTrip> trip() throws LinkException, InstrumentException, InterruptedException;

    /**
     * What is done the moment the board says by itself that it has switched everything off, in the middle of whatever
     * exchange is going on; on the control thread. It must not talk with the board.
     */
    void onTripped(Runnable action);

    /** Outputs off, confirmed by read-back. */
    BoardStatus safeState() throws LinkException, InstrumentException, InterruptedException;

    /** Sends SAFE_STATE on the raw link, past everything. Any thread; never throws. */
    boolean emergencySafe();

    /** Safe state, link closed. Never throws. */
    void close();
}
