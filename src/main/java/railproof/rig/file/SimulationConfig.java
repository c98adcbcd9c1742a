package railproof.rig.file;

import java.util.Optional;

/**
 * What is behind the memory links of a simulated bench.
 *
 * @param unit name of the simulated unit; {@value #AUTO}: the one that has the profile's name
 * @param fault what is broken in it, in the words of the simulator; empty for a good unit
 * @param noiseSeed seed of all noise
 * @param paceRatio simulated seconds per second on the wall; 0 is as fast as the machine can
 */
public record SimulationConfig(String unit, Optional<String> fault, long noiseSeed, double paceRatio) {
    /** The unit that has the profile's name. */
    public static final String AUTO = "auto";
}
