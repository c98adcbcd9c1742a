package railproof.signal;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * When the line came or went, read from its own samples: as a rule between two of them. Near the wave's zero the line
 * cannot be told from no line; an edge seen there may have been anywhere in a tenth of a millisecond about the zero.
 *
 * <p>Thread: immutable; any.
 *
 * @param index first sample on the other side of the edge
 * @param atS when the edge was, on average, against that sample, s; the sample is late as a rule, so below zero
 * @param halfWidthS the edge lies so far from there at most, s
 */
public record LineEdge(int index, double atS, double halfWidthS) {
    /** Below this share of the peak there is no line: a sine is below it for 0.13 ms about each zero at 50 Hz. */
    private static final double DEAD_RATIO = 0.02;

    /**
     * The line coming on.
     *
     * @param lineV line voltage, V, starting without line
     * @param rateHz samples per second, Hz
     * @param lineHz line frequency, Hz
     * @return empty if the line never comes or was there from the beginning
     */
    public static Optional<LineEdge> on(double[] lineV, double rateHz, double lineHz) {
        Samples.requirePositive("sample rate", rateHz);
        Samples.requirePositive("line frequency", lineHz);
        double peakV = peak(lineV);
        for (int i = 0; i < lineV.length; i++) {
            if (Math.abs(lineV[i]) > DEAD_RATIO * peakV) {
                boolean rises = i + 1 < lineV.length && Math.abs(lineV[i + 1]) > Math.abs(lineV[i]);
                double hiddenS = rises ? hiddenS(Math.abs(lineV[i]) / peakV, rateHz, lineHz) : 1 / rateHz;
                return i > 0 ? Optional.of(new LineEdge(i, -0.5 * hiddenS, 0.5 * hiddenS)) : Optional.empty();
            }
        }
        return Optional.empty();
    }

    /**
     * The line going off for good.
     *
     * @param lineV line voltage, V, starting with the line on
     * @param rateHz samples per second, Hz
     * @param lineHz line frequency, Hz
     * @return empty if the line does not stay off for at least a whole cycle
     */
    public static Optional<LineEdge> off(double[] lineV, double rateHz, double lineHz) {
        Samples.requirePositive("sample rate", rateHz);
        Samples.requirePositive("line frequency", lineHz);
        double peakV = peak(lineV);
        int last = lineV.length - 1;
        while (last >= 0 && Math.abs(lineV[last]) <= DEAD_RATIO * peakV) {
            last--;
        }
        boolean longEnough = lineV.length - 1 - last >= rateHz / lineHz;
        if (last < 0 || !longEnough) {
            return Optional.empty();
        }
        boolean falls = last > 0 && Math.abs(lineV[last - 1]) > Math.abs(lineV[last]);
        double hiddenS = falls ? hiddenS(Math.abs(lineV[last]) / peakV, rateHz, lineHz) : 1 / rateHz;
        return Optional.of(new LineEdge(last + 1, 0.5 * hiddenS - 1 / rateHz, 0.5 * hiddenS));
    }

    /**
     * How long the line may have been there unseen, beside the sample that still or already shows it: one sample, unless
     * the neighbouring one may have lain in the dead zone about the zero.
     */
    private static double hiddenS(double seenRatio, double rateHz, double lineHz) {
        double omega = 2 * Math.PI * lineHz;
        double throughZeroS = (Math.asin(Math.min(1, seenRatio)) + Math.asin(DEAD_RATIO)) / omega;
        double sinceDeadS = (Math.asin(Math.min(1, seenRatio)) - Math.asin(DEAD_RATIO)) / omega;
        return sinceDeadS < 1 / rateHz ? Math.max(throughZeroS, 1 / rateHz) : 1 / rateHz;
    }

    /**
     * The phase of this edge, of a line going off, known as well as its instant.
     *
     * @param lineV line voltage, V; the samples in which {@link #off} found it
     * @param rateHz samples per second, Hz
     * @param lineHz line frequency, Hz
     * @return cycles since the rising zero before, 0 up to 1; empty if the record holds no whole cycle before
     */
    public OptionalDouble phaseCycles(double[] lineV, double rateHz, double lineHz) {
        for (int i = index - 1; i > 0; i--) {
            if (lineV[i - 1] < 0 && lineV[i] >= 0) {
                double zero = i - lineV[i] / (lineV[i] - lineV[i - 1]);
                double cycles = ((index - zero) / rateHz + atS) * lineHz;
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
