package railproof.signal;

import java.util.Locale;
import railproof.base.Measured;
import railproof.base.Unit;

/**
 * A window over a whole number of line cycles. A mean or rms over anything else carries a rest of the ripple that
 * depends on where the record happened to start.
 *
 * <p>The window's end falls between two samples as a rule; the curve is taken as straight from sample to sample and
 * integrated to exactly there. What that costs is of second order in (line frequency / sample rate): for a sine of
 * amplitude A at m samples per cycle, below 2 A / m² of error in the mean.
 *
 * <p>Thread: immutable; any.
 */
public final class Cycles {
    private final int count;
    private final double samplesPerCycleDimensionless;
    private final double rateHz;

    private Cycles(int count, double rateHz, double lineHz) {
        this.count = count;
        this.rateHz = rateHz;
        this.samplesPerCycleDimensionless = rateHz / lineHz;
    }

    /**
     * The longest window that fits into a record.
     *
     * @param sampleCount samples in the record
     * @param rateHz samples per second, Hz; at least eight per cycle
     * @param lineHz line frequency as measured, Hz
     * @throws IllegalArgumentException if not even one cycle fits
     */
    public static Cycles in(int sampleCount, double rateHz, double lineHz) {
        Samples.requirePositive("sample rate", rateHz);
        Samples.requirePositive("line frequency", lineHz);
        if (rateHz < 8 * lineHz) {
            throw new IllegalArgumentException(String.format(
                    Locale.ROOT,
                    "%.4g samples per second are too few for a line of %.4g Hz: at least 8 per cycle",
                    rateHz,
                    lineHz));
        }
        // 1e-9: a record of exactly N cycles holds N cycles, whatever the rounding of the division
        int fitting = (int) Math.floor((sampleCount - 1) / (rateHz / lineHz) + 1e-9);
        if (fitting < 1) {
            throw new IllegalArgumentException(String.format(
                    Locale.ROOT, "%d samples at %.4g Hz hold no whole cycle of %.4g Hz", sampleCount, rateHz, lineHz));
        }
        return new Cycles(fitting, rateHz, lineHz);
    }

    /** At most {@code most} cycles of this window, from its start. */
    public Cycles atMost(int most) {
        if (most < 1) {
            throw new IllegalArgumentException("at least one cycle, got " + most);
        }
        return new Cycles(Math.min(most, count), rateHz, rateHz / samplesPerCycleDimensionless);
    }

    /** Number of whole cycles. */
    public int count() {
        return count;
    }

    /** Length of the window, s. */
    public double windowS() {
        return count * samplesPerCycleDimensionless / rateHz;
    }

    /** Samples in one line cycle; a fraction as a rule. */
    public double samplesPerCycle() {
        return samplesPerCycleDimensionless;
    }

    /** First sample of a cycle (0-based), rounded up: samples from here to before the next cycle's lie inside it. */
    int firstSample(int cycle) {
        return (int) Math.ceil(cycle * samplesPerCycleDimensionless - 1e-9);
    }

    /** Mean over the window, in the samples' unit. */
    public double mean(double[] samples) {
        check(samples);
        return integral(samples, 0, count) / count;
    }

    /** Root mean square over the window, mean included: what a true-rms meter shows. */
    public double rms(double[] samples) {
        check(samples);
        return Math.sqrt(Math.max(0, squares(samples, 0, 0, count) / count));
    }

    /** Root mean square of what is left when the mean is taken off: ripple. */
    public double acRms(double[] samples) {
        double mean = mean(samples);
        return Math.sqrt(Math.max(0, squares(samples, mean, 0, count) / count));
    }

    /** Mean of each cycle. */
    public double[] cycleMeans(double[] samples) {
        check(samples);
        double[] means = new double[count];
        for (int i = 0; i < count; i++) {
            means[i] = integral(samples, i, i + 1);
        }
        return means;
    }

    /** Root mean square about the cycle's own mean, of each cycle: slow drift is not ripple. */
    public double[] cycleAcRms(double[] samples) {
        return cycleAcRms(samples, cycleMeans(samples));
    }

    /** The same where the cycles' means are known already. */
    double[] cycleAcRms(double[] samples, double[] means) {
        double[] rms = new double[count];
        for (int i = 0; i < count; i++) {
            rms[i] = Math.sqrt(Math.max(0, squares(samples, means[i], i, i + 1)));
        }
        return rms;
    }

    /**
     * The mean with its type A uncertainty from the scatter of the single cycles' means; with fewer than two cycles
     * from the samples themselves, which then counts the ripple as scatter.
     */
    public Measured measuredMean(double[] samples, Unit unit) {
        if (count < 2) {
            Statistics all = Statistics.of(samples);
            return new Measured(mean(samples), all.standardUOfMean(), 0, Math.max(1, all.effectiveCount() - 1), unit);
        }
        // the cycles are equally long: the mean of their means is the mean over the window
        Statistics cycles = Statistics.of(cycleMeans(samples));
        return new Measured(
                cycles.meanDimensionless(),
                cycles.standardUOfMean(),
                0,
                Math.max(1, cycles.effectiveCount() - 1),
                unit);
    }

    /**
     * What is left of a disturbance in an average over a window: |sin(π f T) / (π f T)|.
     *
     * @param frequencyHz the disturbance, Hz
     * @param windowS the window, s
     */
    public static double rejectionRatio(double frequencyHz, double windowS) {
        double x = Math.PI * frequencyHz * windowS;
        return x == 0 ? 1 : Math.abs(Math.sin(x) / x);
    }

    private void check(double[] samples) {
        int needed = (int) Math.ceil(count * samplesPerCycleDimensionless - 1e-6) + 1;
        Samples.require(samples, needed);
    }

    private double squares(double[] y, double mean, int fromCycle, int toCycle) {
        Span span = span(y, fromCycle, toCycle);
        double d0 = y[span.first] - mean;
        double d1 = y[span.last] - mean;
        double sum = pieceOfSquares(y, mean, span.from, span.first) + pieceOfSquares(y, mean, span.last, span.to);
        sum += Samples.squares(y, mean, span.first, span.last + 1) - 0.5 * (d0 * d0 + d1 * d1);
        return sum / samplesPerCycleDimensionless;
    }

    /** Integral of the straight-line curve, in units of one cycle. */
    private double integral(double[] y, int fromCycle, int toCycle) {
        Span span = span(y, fromCycle, toCycle);
        double sum = piece(y, span.from, span.first) + piece(y, span.last, span.to);
        sum += Samples.sum(y, span.first, span.last + 1) - 0.5 * (y[span.first] + y[span.last]);
        return sum / samplesPerCycleDimensionless;
    }

    private Span span(double[] y, int fromCycle, int toCycle) {
        double from = fromCycle * samplesPerCycleDimensionless;
        double to = Math.min(toCycle * samplesPerCycleDimensionless, y.length - 1);
        return new Span(from, to, (int) Math.ceil(from), (int) Math.floor(to));
    }

    /** A stretch of the curve: where it begins and ends, and the first and last sample in it. */
    private static final class Span {
        private final double from;
        private final double to;
        private final int first;
        private final int last;

        private Span(double from, double to, int first, int last) {
            this.from = from;
            this.to = to;
            this.first = first;
            this.last = last;
        }
    }

    /** Integral between two places inside one sampling interval. */
    private static double piece(double[] y, double from, double to) {
        if (to <= from) {
            return 0;
        }
        int i = before(y, from, to);
        double part = 0.5 * (from + to) - i;
        return (to - from) * (y[i] * (1 - part) + y[i + 1] * part);
    }

    private static double pieceOfSquares(double[] y, double mean, double from, double to) {
        if (to <= from) {
            return 0;
        }
        int i = before(y, from, to);
        double part = 0.5 * (from + to) - i;
        double d0 = y[i] - mean;
        double d1 = y[i + 1] - mean;
        return (to - from) * (d0 * d0 * (1 - part) + d1 * d1 * part);
    }

    private static int before(double[] y, double from, double to) {
        return Math.min((int) Math.floor(0.5 * (from + to)), y.length - 2);
    }
}
