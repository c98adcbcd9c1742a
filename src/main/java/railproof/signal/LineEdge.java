package railproof.signal;

import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * When the line came or went, read from its own samples. Both are known to about 0.1 ms: near the wave's zero the line
 * cannot be told from no line.
 *
 * <p>Thread: pure; any.
 */
public final class LineEdge {
    /** Below this share of the peak there is no line: a sine is below it for 0.13 ms about each zero at 50 Hz. */
    private static final double DEAD_RATIO = 0.02;

    private LineEdge() {}

    /**
     * The first sample with the line on.
     *
     * @param lineV line voltage, V, starting without line
     * @return its index; empty if the line never comes or was there from the beginning
     */
    public static OptionalInt on(double[] lineV) {
        double deadV = DEAD_RATIO * peak(lineV);
        for (int i = 0; i < lineV.length; i++) {
            if (Math.abs(lineV[i]) > deadV) {
                return i > 0 ? OptionalInt.of(i) : OptionalInt.empty();
            }
        }
        return OptionalInt.empty();
    }

    /**
     * The first sample with the line off for good.
     *
     * @param lineV line voltage, V, starting with the line on
     * @param rateHz samples per second, Hz
     * @param lineHz line frequency, Hz
     * @return its index; empty if the line does not stay off for at least a whole cycle
     */
    public static OptionalInt off(double[] lineV, double rateHz, double lineHz) {
        Samples.requirePositive("sample rate", rateHz);
        Samples.requirePositive("line frequency", lineHz);
        double deadV = DEAD_RATIO * peak(lineV);
        int last = lineV.length - 1;
        while (last >= 0 && Math.abs(lineV[last]) <= deadV) {
            last--;
        }
        boolean longEnough = lineV.length - 1 - last >= rateHz / lineHz;
        return last >= 0 && longEnough ? OptionalInt.of(last + 1) : OptionalInt.empty();
    }

    /**
     * The phase at which the line went off.
     *
     * @param lineV line voltage, V
     * @param offIndex first sample without line, as {@link #off} found it
     * @param rateHz samples per second, Hz
     * @param lineHz line frequency, Hz
     * @return cycles since the rising zero before, 0 up to 1; empty if the record holds no whole cycle before
     */
    public static OptionalDouble offPhaseCycles(double[] lineV, int offIndex, double rateHz, double lineHz) {
        // the line's last sample may be noise: its sign says nothing
        for (int i = offIndex - 1; i > 0; i--) {
            if (lineV[i - 1] < 0 && lineV[i] >= 0) {
                double zero = i - lineV[i] / (lineV[i] - lineV[i - 1]);
                double cycles = (offIndex - zero) / rateHz * lineHz;
                return OptionalDouble.of(cycles - Math.floor(cycles));
            }
        }
        return OptionalDouble.empty();
    }

    private static double peak(double[] lineV) {
        Samples.require(lineV, 2);
        double peak = 0;
        for (double v : lineV) {
            peak = Math.max(peak, Math.abs(v));
        }
        return peak;
    }
}
