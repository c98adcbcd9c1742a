package railproof.instrument;

import railproof.wire.LinkException;

/**
 * An electronic load: sinks current from the unit under test. After every setting command the device's error queue is
 * read; anything in it is an {@link InstrumentException}.
 *
 * <p>Thread: control thread only, except {@link #emergencyOff()}.
 */
public interface ElectronicLoad {
    /** The name the rig file gives it. */
    String name();

    /**
     * First contact: input OFF before anything else, confirmed by read-back, then identity, then remote control.
     *
     * @throws InstrumentException if it is not the device the rig file says or does not go off
     */
    Identity connect() throws LinkException, InstrumentException, InterruptedException;

    /** Writes the protection levels and reads them back. Input must be off. */
    void protect(LoadProtection protection) throws LinkException, InstrumentException, InterruptedException;

    /**
     * Selects mode and level. Where the dialect says a mode change drops the input, the caller sees it off.
     *
     * @param level A, V or Ω by mode; not negative
     */
    void set(LoadMode mode, double level) throws LinkException, InstrumentException, InterruptedException;

    /** Switches the input and reads the state back. */
    void input(boolean on) throws LinkException, InstrumentException, InterruptedException;

    /** Asks the device whether its input is on. */
    boolean inputOn() throws LinkException, InstrumentException, InterruptedException;

    /** A new measurement at the load's terminals. */
    LoadReading measure() throws LinkException, InstrumentException, InterruptedException;

    /**
     * Looks for things the load did by itself: a protection that tripped, a power cycle (PON bit), queued errors.
     *
     * @throws InstrumentException naming what happened
     */
    void checkHealth() throws LinkException, InstrumentException, InterruptedException;

    /** Whether the device drops its input by itself when the host falls silent; feeding is part of every exchange. */
    boolean hasWatchdog();

    /**
     * Sends OFF on the raw link, past everything. Any thread; never throws.
     *
     * @return whether the bytes left the host
     */
    boolean emergencyOff();

    /** Input off, local control again, link closed. Never throws. */
    void close();
}
