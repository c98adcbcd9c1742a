package railproof.signal;

import railproof.base.Measured;
import railproof.base.Unit;

/**
 * How much of the ripple at a regulator's input is left at its output: 20 lg (in / out), dB. Both in the same measure
 * (peak to peak or rms) and at the same load.
 *
 * <p>Thread: pure; any.
 */
public final class RippleRejection {
    private static final double DB_PER_RATIO = 20 / Math.log(10);

    private RippleRejection() {}

    /** The plain figure, dB. Both above zero. */
    public static double decibels(double in, double out) {
        Samples.requirePositive("input ripple", in);
        Samples.requirePositive("output ripple", out);
        return 20 * Math.log10(in / out);
    }

    /** With uncertainty; the two readings come from different channels, so nothing cancels. */
    public static Measured of(Measured in, Measured out) {
        double decibels = decibels(in.value(), out.value());
        double relative = Math.hypot(in.standardU() / in.value(), out.standardU() / out.value());
        return Measured.of(decibels, DB_PER_RATIO * relative, Unit.DECIBEL);
    }
}
