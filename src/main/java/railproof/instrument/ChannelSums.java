package railproof.instrument;

/**
 * One channel's averaged reading, in ADC codes; scaling to volts is the rig's calibration.
 *
 * @param channel board channel index
 * @param samples how many samples were averaged; at least 1
 * @param meanCode mean, codes (fractions are real)
 * @param minCode smallest sample
 * @param maxCode largest sample
 * @param sumOfSquares sum of the squared deviations from the mean, codes squared
 * @param startTicks device time of the first sample
 */
public record ChannelSums(
        int channel, int samples, double meanCode, int minCode, int maxCode, double sumOfSquares, long startTicks) {}
