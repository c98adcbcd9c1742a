package railproof.rig;

/**
 * One analogue input of the board as wired in this rig: what a code means, and how well that is known. Inputs are
 * bipolar: with n-bit samples codes run from −2^(n−1) to 2^(n−1) − 1.
 *
 * @param index board channel
 * @param fullScaleDimensionless physical value at positive full scale (V or °C)
 * @param zeroDimensionless physical value at code 0, in the same unit
 * @param accuracy what is known of its errors
 */
public record Channel(int index, double fullScaleDimensionless, double zeroDimensionless, Accuracy accuracy) {
    /** Size of one code, in the channel's unit, for samples of so many bits. */
    double perCode(int codeBits) {
        return (fullScaleDimensionless - zeroDimensionless) / Math.scalb(1.0, codeBits - 1);
    }

    /** Physical value of a code; fractions are real, means have them. */
    double value(double code, int codeBits) {
        return zeroDimensionless + perCode(codeBits) * code;
    }

    /** The nearest code to a physical value, held to what the samples can say. */
    int code(double value, int codeBits) {
        double most = Math.scalb(1.0, codeBits - 1);
        double code = Math.rint((value - zeroDimensionless) / perCode(codeBits));
        return (int) Math.max(-most, Math.min(most - 1, code));
    }
}
