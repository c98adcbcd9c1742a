package railproof.sim.supply;

/**
 * Every component value of one rail.
 *
 * @param name the rail's name as on the unit's plate
 * @param negative whether the output is negative against the rail's common
 * @param nominalV magnitude of the nominal output, V
 * @param ratedA rated output current, A
 * @param rectifier winding and diodes
 * @param reservoir reservoir capacitor
 * @param pass pass stage
 * @param limiter current limit
 * @param reference voltage reference
 * @param amplifier error amplifier and divider
 * @param output output capacitor
 * @param thermal heat sink
 */
public record RailDesign(
        String name,
        boolean negative,
        double nominalV,
        double ratedA,
        RectifierDesign rectifier,
        CapacitorDesign reservoir,
        PassDesign pass,
        LimiterDesign limiter,
        ReferenceDesign reference,
        AmplifierDesign amplifier,
        CapacitorDesign output,
        ThermalDesign thermal) {

    /** Checks the ranges. */
    public RailDesign {
        Require.positive("nominalV", nominalV);
        Require.positive("ratedA", ratedA);
    }

    /** The load resistance that draws the rated current at nominal voltage, Ω. */
    double ratedOhm() {
        return nominalV / ratedA;
    }
}
