package railproof.sim;

import java.util.List;

/**
 * The unit on the bench: mains in, rails out. Time moves only through {@link #advanceTo}. Knows nothing of
 * instruments, noise or bytes; those belong to the devices around it.
 *
 * <p>Thread: confined to one thread.
 */
public interface Plant {
    /** Names of the rails in order; a rail's index is its position here. */
    List<String> railNames();

    /** Simulated time since the plant was made, s. */
    double timeS();

    /**
     * Sets the mains feed from now on. The phase runs on across changes.
     *
     * @param rmsV root mean square voltage, V; zero or more; zero is "switched off": no current flows back
     * @param frequencyHz line frequency, Hz; 40 to 70
     */
    void line(double rmsV, double frequencyHz);

    /**
     * Sets the shape of the mains feed from now on, keeping its root mean square: the lower the peak, the flatter the
     * crest. Until this is called the plant's own surroundings give the shape. A unit without a mains side of its own
     * need not care.
     *
     * @param crestRatio peak over root mean square; 1.19 to the square root of two, which is a sine
     */
    default void crest(double crestRatio) {}

    /**
     * Hangs a load's input capacitor across a rail from now on, behind its leads, replacing the one before: charges are
     * shared, and from then on it takes part in every transient. A unit without capacitors of its own need not care.
     *
     * @param input {@link LoadInput#NONE} takes it away
     */
    default void connect(int rail, LoadInput input) {}

    /** Magnitude of the voltage on the connected input capacitor, V; that of the output if there is none. */
    default double inputV(int rail) {
        return Math.abs(voltageV(rail, Node.OUTPUT));
    }

    /** Connects a load to a rail from now on, replacing the one before. */
    void load(int rail, LoadCharacteristic characteristic);

    /**
     * Integrates up to {@code timeS}; the plant chooses its own inner steps and lands exactly there.
     *
     * @param timeS target time, s; not before {@link #timeS()}
     */
    void advanceTo(double timeS);

    /**
     * Instantaneous voltage now, V. For a negative rail the plant returns signed values (RAW, BASE, OUTPUT negative
     * against the rail's common); loads always see magnitudes.
     */
    double voltageV(int rail, Node node);

    /** Current drawn from the rail now, A, zero or more. */
    double currentA(int rail);

    /** Temperature of the rail's heat sink, °C. */
    double heatSinkC(int rail);

    /** Whether every line cycle is like the last one until line, load or something slow changes. */
    default boolean repeating() {
        return false;
    }

    /** Time for which every node runs straight between two bends just now, s; 0 if nothing is known of it. */
    default double straightS() {
        return 0;
    }

    /** Root mean square of the mains current, A, over the last line cycle. */
    double lineCurrentA();
}
