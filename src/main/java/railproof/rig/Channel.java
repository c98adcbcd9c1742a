package railproof.rig;

import java.util.Optional;

/**
 * One analogue input of the board as wired in this rig: what a code means, and how well that is known. Inputs are
 * bipolar: with n-bit samples codes run from −2^(n−1) to 2^(n−1) − 1.
 *
 * @param name its name in the rig file
 * @param index board channel
 * @param fullScaleDimensionless nominal physical value at positive full scale (V or °C)
 * @param zeroDimensionless nominal physical value at code 0, in the same unit
 * @param accuracy what is known of its errors, with the calibration applied if there is one
 * @param calibration the line that corrects the nominal scale; empty if the channel was never calibrated
 */
public record Channel(
        String name,
        int index,
        double fullScaleDimensionless,
        double zeroDimensionless,
        Accuracy accuracy,
        Optional<ChannelCalibration> calibration) {
    /** An input on its nominal scale. */
    public Channel(int index, double fullScaleDimensionless, double zeroDimensionless, Accuracy accuracy) {
        this("input " + index, index, fullScaleDimensionless, zeroDimensionless, accuracy, Optional.empty());
    }

    /** Size of one code, in the channel's unit, for samples of so many bits. */
    double perCode(int codeBits) {
        double nominal = (fullScaleDimensionless - zeroDimensionless) / Math.scalb(1.0, codeBits - 1);
        return calibration.map(line -> line.gainRatio() * nominal).orElse(nominal);
    }

    /** Physical value of a code; fractions are real, means have them. */
    double value(double code, int codeBits) {
        double perCode = (fullScaleDimensionless - zeroDimensionless) / Math.scalb(1.0, codeBits - 1);
        double nominal = zeroDimensionless + perCode * code;
        return calibration.map(line -> line.corrected(nominal)).orElse(nominal);
    }

    /** The nearest code to a physical value, held to what the samples can say. */
    int code(double value, int codeBits) {
        double nominal = calibration.map(line -> line.nominal(value)).orElse(value);
        double perCode = (fullScaleDimensionless - zeroDimensionless) / Math.scalb(1.0, codeBits - 1);
        double most = Math.scalb(1.0, codeBits - 1);
        double code = Math.rint((nominal - zeroDimensionless) / perCode);
        return (int) Math.max(-most, Math.min(most - 1, code));
    }
}
