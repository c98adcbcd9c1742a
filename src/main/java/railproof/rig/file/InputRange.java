package railproof.rig.file;

import railproof.base.Unit;

/**
 * A kind of input: its nominal scale and how far it can be trusted. Several channels share one range. Figures are in
 * {@code unit}; uncertainties are standard uncertainties (one sigma), with the calibration applied.
 *
 * @param name the range's name in the rig file
 * @param unit {@link Unit#VOLT} or {@link Unit#CELSIUS}
 * @param fullScaleDimensionless the value at positive full scale; the input is bipolar, codes of n bits run from
 *     −2^(n−1) to 2^(n−1)−1 and 2^(n−1) stands for full scale
 * @param zeroDimensionless the value at code 0; zero for voltages
 * @param gainURatio standard uncertainty of the gain, a ratio of the reading; shared by all readings of a channel
 * @param offsetUDimensionless standard uncertainty of the offset; shared by all readings of a channel
 * @param noiseRmsDimensionless noise of a single sample, root mean square
 * @param nonLinearityURatio standard uncertainty from non-linearity, a ratio of full scale
 * @param driftURatio standard uncertainty of the gain from a year of drift, a ratio of the reading; 0 if not stated
 */
public record InputRange(
        String name,
        Unit unit,
        double fullScaleDimensionless,
        double zeroDimensionless,
        double gainURatio,
        double offsetUDimensionless,
        double noiseRmsDimensionless,
        double nonLinearityURatio,
        double driftURatio) {

    /**
     * Nominal size of one code, in {@code unit}.
     *
     * @param codeBits resolution of the board's samples, bits
     */
    public double perCode(int codeBits) {
        return (fullScaleDimensionless - zeroDimensionless) / Math.scalb(1.0, codeBits - 1);
    }

    /** Nominal value of a code (fractions are real: means have them), in {@code unit}. */
    public double value(double code, int codeBits) {
        return zeroDimensionless + code * perCode(codeBits);
    }

    /** The nearest whole code of a value, held to what {@code codeBits} can say. */
    public int code(double value, int codeBits) {
        double most = Math.scalb(1.0, codeBits - 1);
        double code = Math.rint((value - zeroDimensionless) / perCode(codeBits));
        return (int) Math.max(-most, Math.min(most - 1, code));
    }
}
