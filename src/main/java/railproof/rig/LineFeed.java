package railproof.rig;

import railproof.instrument.InstrumentException;
import railproof.wire.LinkException;

/**
 * How this rig feeds the unit with mains: a programmable source, or a hand-turned variac behind a relay.
 *
 * <p>Thread: control thread only, except {@link #emergencyOff()}.
 */
interface LineFeed {
    /** Brings the line to a voltage and switches it on; returns when that is done, not when the unit has settled. */
    void on(LineAccess bench, double rmsV, double frequencyHz) throws RunEndException;

    /** Switches the line off. */
    void off(LineAccess bench) throws RunEndException;

    /**
     * Switches the line off without looking at anything else.
     *
     * @return whether the line is now known to be off; false where only the board's relay switches it
     */
    boolean makeSafe() throws LinkException, InstrumentException, InterruptedException;

    /** Whether the rig can switch the line at all; a bare variac can only be switched by hand. */
    boolean switchesItself();

    /** Sends OFF past everything. Any thread; never throws. */
    boolean emergencyOff();

    /** What a line feed needs of the bench. */
    interface LineAccess {
        /** Switches the board's line relay, if the rig has one. */
        void lineRelay(boolean on) throws RunEndException;

        /** Root mean square line voltage at the unit's inlet, measured over whole cycles, V. */
        double measureLineV() throws RunEndException;

        /** Runs an exchange with an instrument; its trouble ends the run. */
        void exchange(Exchange exchange) throws RunEndException;

        /** Shows the operator what to do, without waiting. */
        void show(String text);

        /** Takes the question away. */
        void withdraw();

        /** Waits, keeping the bench alive. */
        void pause(java.time.Duration duration) throws RunEndException;
    }

    /** Talk with an instrument. */
    @FunctionalInterface
    interface Exchange {
        /** Talks. */
        void run() throws LinkException, InstrumentException, InterruptedException;
    }
}
