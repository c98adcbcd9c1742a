package railproof.rig.file;

import java.util.Optional;

/**
 * What is behind the memory links of a simulated bench.
 *
 * @param unit name of the simulated unit; {@value #AUTO}: the one that has the profile's name
 * @param fault what is broken in it, in the words of the simulator; empty for a good unit
 * @param noiseSeed seed of all noise
 * @param paceRatio simulated seconds per second on the wall; 0 is as fast as the machine can
 * @param boardClockErrorRatio how much too fast the simulated board's clock runs; 80e-6 is 80 ppm
 * @param mainsCrestRatio peak over root mean square of the mains at the wall, for a line that is turned by hand or fixed
 */
public record SimulationConfig(
        String unit,
        Optional<String> fault,
        long noiseSeed,
        double paceRatio,
        double boardClockErrorRatio,
        double mainsCrestRatio) {
    /** The unit that has the profile's name. */
    public static final String AUTO = "auto";

    /** A simulation with a true board clock and mains like a sine. */
    public SimulationConfig(String unit, Optional<String> fault, long noiseSeed, double paceRatio) {
        this(unit, fault, noiseSeed, paceRatio, 0, Math.sqrt(2));
    }
}
