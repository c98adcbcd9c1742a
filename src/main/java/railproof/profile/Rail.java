package railproof.profile;

import java.util.Optional;

/**
 * One output of the supply.
 *
 * @param name as printed at the terminals, e.g. {@code +5 V}; unique in the profile
 * @param nominalV nominal output, V, negative for a negative rail; magnitude 0.5 to 1000
 * @param ratedCurrentA full load, A; greater than zero
 * @param minimumLoadA smallest load the rail is specified at, A; zero for most; "no load" means this current
 * @param overVoltageV magnitude at which everything stops at once, V; above the output band
 * @param limitShape how it limits its current
 * @param maxProbeCurrentA the search for the limit never asks for more than this, A; above the rated current
 * @param limits what it must keep to
 * @param parts nominal part values, if the profile states them; no limit asks for them
 */
public record Rail(
        String name,
        double nominalV,
        double ratedCurrentA,
        double minimumLoadA,
        double overVoltageV,
        LimitShape limitShape,
        double maxProbeCurrentA,
        RailLimits limits,
        Optional<PartList> parts) {
    /** Whether the rail can exceed 60 V d.c. and needs the high-voltage cautions. */
    public boolean hazardousLive() {
        return overVoltageV > 60;
    }
}
