package railproof.profile;

import java.util.Optional;

/**
 * What one rail must keep to when something changes. An absent limit is not judged.
 *
 * @param recoveryMaxS back in the band about the final value after a load step, s
 * @param stepDeviationMaxV largest excursion from the final value after a load step, V
 * @param startUpMaxS line on to output in its band for good, s
 * @param startUpOvershootMaxV largest excursion above the final value at start-up, V
 * @param holdUpMinS line off to output out of its band, s
 * @param dropoutLineMaxV line at which regulation is lost at full load, V
 * @param overloadRecoveryMaxS overload removed to output in its band for good, s
 * @param crossRegulationMaxRatio change of this rail when another goes from its low to its high load, of nominal
 * @param warmingMaxRatio change of the output without load over the load sweep, of nominal
 * @param hysteresisMaxRatio output on the sweep's way back against its way up, warming taken out, of nominal
 */
public record DynamicLimits(
        Optional<Double> recoveryMaxS,
        Optional<Double> stepDeviationMaxV,
        Optional<Double> startUpMaxS,
        Optional<Double> startUpOvershootMaxV,
        Optional<Double> holdUpMinS,
        Optional<Double> dropoutLineMaxV,
        Optional<Double> overloadRecoveryMaxS,
        Optional<Double> crossRegulationMaxRatio,
        Optional<Double> warmingMaxRatio,
        Optional<Double> hysteresisMaxRatio) {
    /** Nothing judged. */
    public static final DynamicLimits NONE = new DynamicLimits(
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Optional.empty());
}
