package railproof.sim.supply;

/** A fault that changes with time or temperature. */
interface FaultProcess {
    /** The instant at which {@link #reach} wants to be called next, s; the integration lands on it. */
    double nextS();

    /**
     * Time has come to {@link #nextS}.
     *
     * @param sinkC heat-sink temperature of the rail, °C
     * @param rawV voltage of its reservoir, V
     * @return whether the circuit has changed abruptly
     */
    boolean reach(double sinkC, double rawV);

    /** Whether it changes something within every line cycle. */
    default boolean restless() {
        return false;
    }

    /** Sets values that change smoothly to what they are at {@code timeS}, at or before {@link #nextS}. */
    default void shape(double timeS) {}
}
