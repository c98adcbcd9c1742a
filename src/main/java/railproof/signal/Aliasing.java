package railproof.signal;

import java.util.ArrayList;
import java.util.List;

/**
 * Where a tone shows up when it is sampled too slowly. Ripple sampled at ten samples per second is a constant error,
 * and a line a tenth of a hertz off turns into "drift".
 *
 * <p>Thread: pure; any.
 */
public final class Aliasing {
    /** Ripple is to be sampled at least at this rate, Hz: forty samples per ripple period at 50 Hz line. */
    public static final double LEAST_RIPPLE_RATE_HZ = 2000;

    private static final int HARMONICS = 6;

    private Aliasing() {}

    /** The frequency at which a tone appears, Hz, zero to half the sample rate. */
    public static double appearsAtHz(double frequencyHz, double rateHz) {
        Samples.requirePositive("sample rate", rateHz);
        return Math.abs(frequencyHz - rateHz * Math.rint(frequencyHz / rateHz));
    }

    /**
     * The line's multiples (up to the sixth) that fold down to below {@code bandHz} and would be taken for d.c. or
     * drift, Hz. Empty: slow readings are safe from the line.
     */
    public static List<Double> hazardsHz(double lineHz, double rateHz, double bandHz) {
        List<Double> hazards = new ArrayList<>();
        for (int h = 1; h <= HARMONICS; h++) {
            double f = h * lineHz;
            if (f > bandHz && appearsAtHz(f, rateHz) < bandHz) {
                hazards.add(f);
            }
        }
        return hazards;
    }
}
