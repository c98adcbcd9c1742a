package railproof.signal;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;

/**
 * The frequency at which an output swings about its final value after a change. Swings count only while they are
 * clearly larger than what the settled output does anyway, so ripple is not taken for ringing.
 *
 * <p>Thread: pure; any.
 */
public final class Ringing {
    /** A swing must reach this many times the settled output's largest excursion. */
    private static final double CLEAR_RATIO = 1.5;
    /** This many zero crossings make a frequency; fewer are one swing and its return. */
    private static final int FEWEST = 4;

    private Ringing() {}

    /**
     * Reads a record.
     *
     * @param samplesV output, V, oldest first
     * @param rateHz samples per second, Hz
     * @param stepIndex first sample at or after the change; at least twenty samples after it
     * @return the frequency, Hz; empty if it does not ring
     */
    public static OptionalDouble frequencyHz(double[] samplesV, double rateHz, int stepIndex) {
        Samples.requirePositive("sample rate", rateHz);
        Samples.require(samplesV, stepIndex + 20);
        int n = samplesV.length;
        int settled = n - Math.max(4, (n - stepIndex) / 5);
        double last = Samples.median(samplesV, settled, n);
        double calm = 0;
        for (int i = settled; i < n; i++) {
            calm = Math.max(calm, Math.abs(samplesV[i] - last));
        }
        List<Double> crossings = crossings(samplesV, stepIndex, last, CLEAR_RATIO * calm);
        if (crossings.size() < FEWEST) {
            return OptionalDouble.empty();
        }
        double samples = crossings.get(crossings.size() - 1) - crossings.get(0);
        return OptionalDouble.of((crossings.size() - 1) * rateHz / (2 * samples));
    }

    /** Where the record goes through its final value on the way from one clear swing to the opposite one. */
    private static List<Double> crossings(double[] v, int from, double last, double clear) {
        List<Double> crossings = new ArrayList<>();
        int side = 0;
        double through = 0;
        for (int i = from; i < v.length; i++) {
            double off = v[i] - last;
            if (i > from && (v[i - 1] - last) * off <= 0 && v[i] != v[i - 1]) {
                through = i - off / (v[i] - v[i - 1]);
            }
            int now = Math.abs(off) > clear ? (int) Math.signum(off) : side;
            if (side != 0 && now != side) {
                crossings.add(through);
            }
            side = now;
        }
        return crossings;
    }
}
