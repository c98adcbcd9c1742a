package railproof.sim;

/**
 * What an electronic load's terminals do at one instant: the current it sinks at a given terminal voltage.
 * Continuous and non-decreasing in the voltage, so that the plant can solve for the operating point.
 */
@FunctionalInterface
public interface LoadCharacteristic {
    /** Nothing connected. */
    LoadCharacteristic OPEN = voltageV -> 0;

    /**
     * The current drawn.
     *
     * @param voltageV magnitude of the rail's terminal voltage, V
     * @return current sunk, A; zero or more for any voltage of zero or more
     */
    double currentA(double voltageV);
}
