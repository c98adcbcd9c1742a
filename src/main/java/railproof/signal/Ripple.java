package railproof.signal;

import java.util.Arrays;
import railproof.base.Measured;
import railproof.base.Unit;

/**
 * Ripple on a rail, over a whole number of line cycles.
 *
 * <p>Method: each cycle gives its own peak-to-peak and its own rms about its own mean; the median over the cycles is
 * the result and the scatter of the cycles its type A uncertainty. So one bad sample (which spoils one cycle) does not
 * fail a good supply, drift below the line frequency is not counted as ripple (the customary lower edge of periodic
 * and random deviation is 20 Hz), and a fast oscillation that is there in every cycle is counted in full. With fewer
 * than three cycles there is no majority; then the one highest and the one lowest sample are left out instead. The
 * plain extremes stand beside the result, so that whatever was voted down is seen.
 *
 * <p>Sample at 2 kHz or more, or peaks fall between the samples.
 *
 * <p>Thread: immutable; any.
 *
 * @param pp peak to peak, V
 * @param rms root mean square about the mean, V
 * @param extremesPpV highest less lowest sample of the whole window, V, wild ones included
 * @param meanV mean over the window, V
 */
public record Ripple(Measured pp, Measured rms, double extremesPpV, double meanV) {
    /** Scatter of a median against that of a mean, for many samples of a normal distribution: √(π/2). */
    private static final double MEDIAN_COST = 1.2533;

    /**
     * Measures.
     *
     * @param samplesV rail voltage, V, oldest first, at least as long as the window
     * @param window whole line cycles
     */
    public static Ripple of(double[] samplesV, Cycles window) {
        double[] means = window.cycleMeans(samplesV);
        double[] rms = window.cycleAcRms(samplesV, means);
        double[] pp = new double[window.count()];
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < pp.length; i++) {
            Samples.Extent cycle = Samples.extent(samplesV, window.firstSample(i), window.firstSample(i + 1));
            low = Math.min(low, cycle.low());
            high = Math.max(high, cycle.high());
            pp[i] = cycle.span();
        }
        double mean = Samples.sum(means, 0, means.length) / means.length;
        if (pp.length >= 3) {
            return new Ripple(median(pp), median(rms), high - low, mean);
        }
        int last = window.firstSample(window.count());
        double[] trimmed = Arrays.copyOfRange(samplesV, 0, last);
        Arrays.sort(trimmed);
        double inner = trimmed[last - 2] - trimmed[1];
        double rest = high - low - inner;
        // what the two left-out samples would change bounds what leaving them out may have cost
        Measured ppV = new Measured(inner, rest / Math.sqrt(12), 0, 1, Unit.VOLT);
        return new Ripple(ppV, new Measured(trimmedRms(trimmed), 0, 0, 1, Unit.VOLT), high - low, mean);
    }

    /** Ripple factor: rms over the magnitude of the d.c. output; 0.01 is 1 %. */
    public double factorRatio() {
        Samples.requirePositive("magnitude of the mean", Math.abs(meanV));
        return rms.value() / Math.abs(meanV);
    }

    /** What the ratio of peak-to-peak to rms and the plain extremes say of the waveform. */
    public Plausibility plausibility() {
        if (rms.value() <= 0 || pp.value() <= 0) {
            return Plausibility.NO_RIPPLE;
        }
        if (extremesPpV > 1.5 * pp.value()) {
            return Plausibility.STRAY_PEAKS;
        }
        double ratio = pp.value() / rms.value();
        if (ratio > HIGHEST_RESERVOIR_RATIO) {
            return Plausibility.SPIKY;
        }
        return ratio < LOWEST_RESERVOIR_RATIO ? Plausibility.BLUNT : Plausibility.RESERVOIR_LIKE;
    }

    /**
     * The lowest peak-to-peak over rms that a reservoir's ripple has. A sine has 2 √2 = 2.83, an ideal
     * capacitor-input rectifier 3.2 to 3.46 over any load.
     */
    static final double LOWEST_RESERVOIR_RATIO = 3.0;

    /** The highest: a pure sawtooth's 2 √3 = 3.464, with a hair for noise. */
    static final double HIGHEST_RESERVOIR_RATIO = 3.47;

    /** What kind of waveform it is. */
    public enum Plausibility {
        /** Nothing varies. */
        NO_RIPPLE,
        /** A sawtooth such as a reservoir makes. */
        RESERVOIR_LIKE,
        /** Rounder than a reservoir makes: sine, square, clipped, or aliased. */
        BLUNT,
        /** More pointed: spikes, drop-out notches, or much noise. */
        SPIKY,
        /** In a few cycles only there were peaks far beyond the rest: bad samples or bursts. */
        STRAY_PEAKS
    }

    private static Measured median(double[] perCycle) {
        Statistics scatter = Statistics.of(perCycle);
        double u = MEDIAN_COST * Samples.robustSd(perCycle) / Math.sqrt(scatter.effectiveCount());
        return new Measured(Samples.median(perCycle), u, 0, Math.max(1, scatter.effectiveCount() - 1), Unit.VOLT);
    }

    private static double trimmedRms(double[] sorted) {
        double[] inner = Arrays.copyOfRange(sorted, 1, sorted.length - 1);
        double mean = Statistics.mean(inner);
        double sum = 0;
        for (double v : inner) {
            sum += (v - mean) * (v - mean);
        }
        return Math.sqrt(sum / inner.length);
    }
}
