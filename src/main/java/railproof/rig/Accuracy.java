package railproof.rig;

import railproof.base.Measured;
import railproof.base.Unit;

/**
 * Standard uncertainties of a measuring channel, from its calibration or its data sheet. Gain, offset, drift and the
 * fitted line are shared by all readings of the channel; the rest varies.
 *
 * @param gainRatio standard uncertainty of the gain, relative: the reference's, or the data sheet's
 * @param offsetDimensionless standard uncertainty of the zero, in the channel's unit
 * @param nonLinearityDimensionless standard uncertainty left after the straight line, in the channel's unit
 * @param noiseDimensionless standard deviation of one sample, in the channel's unit
 * @param driftRatio standard uncertainty of the gain from drift since the calibration, relative
 * @param fitGainRatio standard uncertainty of the fitted line's slope about its pivot, relative; 0 without a calibration
 * @param fitPivotDimensionless mean of the calibrated levels, in the channel's unit: slope and height of the line are
 *     independent there, and only there
 * @param leadUOhm standard uncertainty of the resistance in which the load current may still drop between the terminals
 *     and the channel, Ω; 0 if it was not checked
 */
public record Accuracy(
        double gainRatio,
        double offsetDimensionless,
        double nonLinearityDimensionless,
        double noiseDimensionless,
        double driftRatio,
        double fitGainRatio,
        double fitPivotDimensionless,
        double leadUOhm) {
    /** Without drift, a fitted line or a lead drop. */
    public Accuracy(
            double gainRatio, double offsetDimensionless, double nonLinearityDimensionless, double noiseDimensionless) {
        this(gainRatio, offsetDimensionless, nonLinearityDimensionless, noiseDimensionless, 0, 0, 0, 0);
    }

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
        double fitU = fitGainRatio * (scatter.value() - fitPivotDimensionless);
        return withRest(scatter, typeAU, typeADof, Math.hypot(offsetDimensionless, fitU), nonLinearityDimensionless);
    }

    /**
     * A level with what the load current may drop in the leads added: it is there in every reading of the channel, as
     * large as the current.
     *
     * @param currentA load current while it was read, A
     */
    public Measured withLeadDrop(Measured level, double currentA) {
        return level.withLead(leadUOhm * Math.abs(currentA));
    }

    /**
     * A difference within one record (ripple, peak to peak): the zero has no part in it, the non-linearity counts at
     * both ends. The channel's noise is in the scatter already, and its mean effect is the caller's to take off.
     */
    public Measured span(Measured scatter) {
        return span(scatter, 1);
    }

    /**
     * The same for another measure of the same waveform.
     *
     * @param ofPeakToPeakRatio the measure over peak to peak: by so much less the non-linearity counts
     */
    public Measured span(Measured scatter, double ofPeakToPeakRatio) {
        return withRest(
                scatter,
                scatter.randomU(),
                scatter.randomDof(),
                fitGainRatio * scatter.value(),
                Math.sqrt(2) * ofPeakToPeakRatio * nonLinearityDimensionless);
    }

    private Measured withRest(Measured scatter, double typeAU, double typeADof, double zeroU, double lineU) {
        double value = scatter.value();
        Unit unit = scatter.unit();
        double randomU = Math.hypot(typeAU, lineU);
        // Welch and Satterthwaite (GUM G.4.1), the non-linearity taken as exactly known
        double ratio = typeAU > 0 ? randomU / typeAU : Double.POSITIVE_INFINITY;
        double gainU = Math.hypot(gainRatio, driftRatio) * value;
        return new Measured(
                value, randomU, Math.hypot(gainU, zeroU), Math.max(1, typeADof * ratio * ratio * ratio * ratio), unit);
    }
}
