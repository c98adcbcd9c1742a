package railproof.instrument;

import java.util.OptionalDouble;
import railproof.wire.LinkException;

/**
 * A programmable a.c. source feeding the unit under test.
 *
 * <p>Thread: control thread only, except {@link #emergencyOff()}.
 */
public interface LineSource {
    /** The name the rig file gives it. */
    String name();

    /** First contact: output OFF, confirmed, then identity. */
    Identity connect() throws LinkException, InstrumentException, InterruptedException;

    /**
     * Sets the line.
     *
     * @param rmsV root mean square voltage, V
     * @param frequencyHz line frequency, Hz
     */
    void set(double rmsV, double frequencyHz) throws LinkException, InstrumentException, InterruptedException;

    /** Switches the output and reads the state back. */
    void output(boolean on) throws LinkException, InstrumentException, InterruptedException;

    /** Root mean square current the source gives, A, by its own meter; empty if it has none. */
    OptionalDouble measureCurrentA() throws LinkException, InstrumentException, InterruptedException;

    /** Sends OFF on the raw link, past everything. Any thread; never throws. */
    boolean emergencyOff();

    /** Output off, link closed. Never throws. */
    void close();
}
