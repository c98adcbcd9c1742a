package railproof.sim.supply;

import java.util.List;
import railproof.sim.Plant;

/**
 * One type of supply: a transformer and the rails on it.
 *
 * @param name kebab-case name by which it is chosen
 * @param title one line for people
 * @param nominalLineV line voltage the transformer is wound for, V rms
 * @param nominalLineHz line frequency it is meant for, Hz
 * @param primaryOhm resistance of mains feed and primary winding, Ω; it is what couples the rails
 * @param magnetisingA magnetising current at nominal line, A rms
 * @param rails the rails in order
 */
public record UnitDesign(
        String name,
        String title,
        double nominalLineV,
        double nominalLineHz,
        double primaryOhm,
        double magnetisingA,
        List<RailDesign> rails) {

    /** Checks the ranges and copies the list. */
    public UnitDesign {
        Require.positive("nominalLineV", nominalLineV);
        Require.within("nominalLineHz", nominalLineHz, 40, 70);
        Require.notNegative("primaryOhm", primaryOhm);
        Require.notNegative("magnetisingA", magnetisingA);
        rails = List.copyOf(rails);
        if (rails.isEmpty()) {
            throw new IllegalArgumentException("a unit has at least one rail");
        }
    }

    /**
     * Builds one unit of this type with faults, cold, discharged and switched off.
     *
     * @param surroundings temperature, mains waveform, seed
     * @param faults what is wrong with it; empty for a healthy unit
     * @throws IllegalArgumentException if a fault names a rail that the unit does not have
     */
    public Plant build(Surroundings surroundings, List<PlacedFault> faults) {
        return new UnitPlant(this, surroundings, List.copyOf(faults));
    }

    /**
     * Builds one unit that is not integrated while nothing happens to it: for hours under a load that stands still.
     *
     * @param surroundings temperature, mains waveform, seed
     * @param faults what is wrong with it; empty for a healthy unit
     * @throws IllegalArgumentException if a fault names a rail that the unit does not have
     */
    public Plant buildFastForward(Surroundings surroundings, List<PlacedFault> faults) {
        return new FastForwardPlant(new UnitPlant(this, surroundings, List.copyOf(faults)));
    }

    /**
     * Builds one healthy unit of this type, cold, discharged and switched off.
     *
     * @param surroundings temperature, mains waveform, seed
     */
    public Plant build(Surroundings surroundings) {
        return build(surroundings, List.of());
    }
}
