package railproof.rig;

import railproof.base.Measured;
import railproof.base.Unit;

/**
 * Standard uncertainties of a measuring channel, from its calibration or its data sheet. Gain and offset are shared by
 * all readings of the channel; the rest varies.
 *
 * @param gainRatio standard uncertainty of the gain, relative
 * @param offsetDimensionless standard uncertainty of the zero, in the channel's unit
 * @param nonLinearityDimensionless standard uncertainty left after the straight line, in the channel's unit
 * @param noiseDimensionless standard deviation of one sample, in the channel's unit
 */
public record Accuracy(
        double gainRatio, double offsetDimensionless, double nonLinearityDimensionless, double noiseDimensionless) {
    /**
     * A level (a mean, a single reading) with the channel's errors added.
     *
     * @param scatter the level with its type A uncertainty, as the samples showed it
     * @param samples how many samples were averaged; the channel's stated noise counts if it gives more than the
     *     samples' scatter
     */
    public Measured level(Measured scatter, int samples) {
        double noiseU = noiseDimensionless / Math.sqrt(samples);
        double typeAU = Math.max(scatter.randomU(), noiseU);
        double typeADof = scatter.randomU() >= noiseU ? scatter.randomDof() : Double.POSITIVE_INFINITY;
        return withRest(scatter.value(), typeAU, typeADof, offsetDimensionless, scatter.unit());
    }

    /** A difference within one record (ripple, peak to peak): the zero has no part in it, the noise counts twice. */
    public Measured span(Measured scatter) {
        double typeAU = Math.hypot(scatter.randomU(), Math.sqrt(2) * noiseDimensionless);
        return withRest(scatter.value(), typeAU, scatter.randomDof(), 0, scatter.unit());
    }

    private Measured withRest(double value, double typeAU, double typeADof, double zeroU, Unit unit) {
        double randomU = Math.hypot(typeAU, nonLinearityDimensionless);
        // Welch and Satterthwaite (GUM G.4.1), the non-linearity taken as exactly known
        double ratio = typeAU > 0 ? randomU / typeAU : Double.POSITIVE_INFINITY;
        return new Measured(
                value,
                randomU,
                Math.hypot(gainRatio * value, zeroU),
                Math.max(1, typeADof * ratio * ratio * ratio * ratio),
                unit);
    }
}
