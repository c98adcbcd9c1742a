package railproof.sim.device;

/** Ways in which an analogue input of the simulated board breaks, for campaigns that show that the rig notices. */
public sealed interface ConverterFault {
    /** It works. */
    record None() implements ConverterFault {}

    /** Every sample is the one that was taken first after it broke. */
    record Stuck() implements ConverterFault {}

    /**
     * Every sample is at an end of the range.
     *
     * @param high the upper end
     */
    record Rail(boolean high) implements ConverterFault {}

    /**
     * Everything reads too much.
     *
     * @param offsetV by so much, V
     */
    record Offset(double offsetV) implements ConverterFault {}
}
