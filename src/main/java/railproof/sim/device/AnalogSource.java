package railproof.sim.device;

/**
 * What lies at the simulated board's input terminals.
 *
 * <p>Thread: called by whoever drives the board.
 */
public interface AnalogSource {
    /**
     * Brings the world to an instant. The board asks in order of time; whoever drives several devices on one world must
     * bring all of them to the present before any of them is spoken to. A time that has passed already is to be taken
     * as the present.
     *
     * @param timeS time since the origin given to the board, s
     */
    void advanceTo(double timeS);

    /** Whether every line cycle is like the last one, so that looking less often sees as much. */
    default boolean repeating() {
        return false;
    }

    /** Time for which every input runs straight between two bends just now, s; 0 if nothing is known of it. */
    default double straightS() {
        return 0;
    }

    /** Voltage at an input terminal now, V. */
    double voltageV(int channel);
}
