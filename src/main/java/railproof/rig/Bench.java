package railproof.rig;

import java.time.Duration;
import java.util.Map;
import java.util.function.Supplier;
import railproof.base.Reading;
import railproof.instrument.LoadMode;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.run.Waveform;

/**
 * All that a procedure can do to the unit under test. Every method that takes time keeps the bench alive (heartbeat,
 * interlocks, stop signal, envelope) and may end the run; a procedure cannot forget it, because there is no other way
 * to wait.
 *
 * <p>Thread: control thread only.
 */
public interface Bench {
    /** Time since the start of the run, s. */
    double elapsedS();

    /**
     * What a rail may do from now on. Goes to the load's and the board's own protections too. All load inputs and the
     * line must be off.
     */
    void envelope(String rail, Envelope envelope) throws RunEndException;

    /** Brings the line to a voltage and switches it on; the unit has not settled when this returns. */
    void lineOn(double rmsV, double frequencyHz) throws RunEndException;

    /** Switches the line off. */
    void lineOff() throws RunEndException;

    /** Whether the line can be brought to any voltage, by a source or by hand; otherwise it stands where it stands. */
    boolean lineAdjustable();

    /** How near to the asked line this rig can bring it, a ratio of it. */
    double lineBandRatio();

    /**
     * Whether {@link #lineSwitch} is to be had: mains switched while a load is connected. A rig that switches the line
     * by the board's relay alone cannot do it: contacts never switch under load.
     */
    boolean lineSwitchesUnderLoad();

    /**
     * Switches the line as it was last set, with the loads as they are; returns at once. Only where
     * {@link #lineSwitchesUnderLoad}, and only after {@link #lineOn}.
     */
    void lineSwitch(boolean on) throws RunEndException;

    /** Current the unit takes from the line; missing where the rig cannot measure it. */
    Reading lineCurrent() throws RunEndException;

    /** Line voltage last asked for, V; 0 while it is off. */
    double lineAskedV();

    /** Sets the load on a rail: mode and level (A, V or Ω). Its input stays as it is. */
    void load(String rail, LoadMode mode, double level) throws RunEndException;

    /** Switches the load input on a rail. */
    void loadInput(String rail, boolean on) throws RunEndException;

    /** What is asked of the rail's load now. */
    Setpoint asked(String rail);

    /** Time after a new level before the rail's load can be trusted. */
    Duration loadSettle(String rail);

    /** Terminal voltage below which the rail's load cannot take its full current, V. */
    double loadMinimumV(String rail);

    /**
     * A quick look at the rail's output, averaged on the board. Checked against the envelope.
     *
     * @param windowS averaging window, s; use whole line cycles
     */
    Look look(String rail, double windowS) throws RunEndException;

    /**
     * A slow quantity of a rail averaged on the board, such as its heat-sink temperature; missing if the rail has no
     * channel for it. The output has {@link #look}.
     *
     * @param windowS averaging window, s
     */
    Reading average(String rail, Quantity quantity, double windowS) throws RunEndException;

    /** Current the rail's load measures, as a reading with its uncertainty; zero if its input is off. */
    Reading loadCurrent(String rail) throws RunEndException;

    /**
     * Captures all channels of a rail, and the line, at once. Checked against the envelope.
     *
     * @param windowS length, s; shortened if the board's memory is too small
     */
    Waveform capture(Section section, String rail, double windowS) throws RunEndException;

    /**
     * Captures the rail's output and the line while something is done to the unit.
     *
     * @param span how much before and after
     * @param deed what is done; may switch loads and line, but not look: the board is busy
     */
    Waveform captureDuring(Section section, String rail, Span span, Deed deed) throws RunEndException;

    /** Whether two rails share a load, so that they cannot be loaded at the same time. */
    boolean sharesLoad(String rail, String other);

    /** Accuracy of each channel on the rail's nodes, and of the line under {@link Quantity#LINE}. */
    Map<Quantity, Accuracy> accuracies(String rail);

    /** Waits, keeping the bench alive. */
    void pause(Duration duration) throws RunEndException;

    /**
     * Has something worked out, keeping the bench alive meanwhile; nothing else happens on the bench until then.
     *
     * @param task touches no instrument; runs on another thread
     */
    <T> T workOut(Supplier<T> task) throws RunEndException;

    /** Asks the operator and waits for the answer; nobody answering in time ends the run. */
    String ask(String text) throws RunEndException;

    /** Index of the next point. */
    int nextPointIndex();

    /** Records a finished point; returns when it is kept. */
    void record(Point point) throws RunEndException;

    /** Records a waveform; returns when it is kept. */
    void record(Waveform waveform) throws RunEndException;

    /** A procedure starts on a rail. */
    void section(Section section, String rail, int pointsPlanned) throws RunEndException;

    /** A line for the record. */
    void note(RunEvent.Note.Level level, String text) throws RunEndException;

    /**
     * What a quick look gave.
     *
     * @param meanV mean output, V, signed
     * @param meanU standard uncertainty of the mean from the samples' scatter, V
     * @param minV smallest sample, V
     * @param maxV largest sample, V
     */
    record Look(double meanV, double meanU, double minV, double maxV) {}

    /**
     * How much of a change is captured.
     *
     * @param beforeS quiet time before the deed, s
     * @param afterS time from the start of the deed to the end of the capture, s; longer than the deed takes
     */
    record Span(double beforeS, double afterS) {}

    /** Something done to the unit. */
    @FunctionalInterface
    interface Deed {
        /** Does it. */
        void run() throws RunEndException;
    }
}
