package railproof.instrument;

/**
 * One analogue input as the board describes it. The voltages are nominal; what is measured is scaled by the rig's
 * calibration.
 *
 * @param channel board channel index
 * @param name printed at the terminal
 * @param bits resolution; codes are −2^(bits−1) to 2^(bits−1)−1
 * @param lowV nominal input of the lowest code, V
 * @param highV nominal input one step above the highest code, V
 */
public record ChannelInfo(int channel, String name, int bits, double lowV, double highV) {
    /** Nominal input voltage of a code (fractions allowed), V. */
    public double nominalV(double code) {
        double steps = Math.scalb(1.0, bits);
        return lowV + (code + steps / 2) * (highV - lowV) / steps;
    }
}
