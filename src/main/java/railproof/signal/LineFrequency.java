package railproof.signal;

import java.util.Locale;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;

/**
 * The line frequency from a captured waveform: of the line itself, or of the ripple on the reservoir.
 *
 * <p>Coarse: the strongest component in range under a Hann window. Fine: a least-squares fit of the fundamental with
 * its harmonics, d.c. and a ramp (IEEE Std 1057, extended), single wild samples left out. The uncertainty is the fit's
 * own; it does not hold the board's clock, which the caller adds.
 *
 * <p>Thread: pure; any.
 */
public final class LineFrequency {
    /** Lowest line frequency looked for, Hz. */
    public static final double LOWEST_HZ = 40;
    /** Highest line frequency looked for, Hz. */
    public static final double HIGHEST_HZ = 70;

    private static final int MOST_HARMONICS = 8;
    /** An amplitude below so many of its standard uncertainties is chance: exp(−18) for one noise line. */
    private static final double SIGNIFICANT = 6;

    private LineFrequency() {}

    /**
     * From the line's waveform.
     *
     * @param samples any unit, oldest first; at least two and a half cycles of the lowest frequency
     * @param rateHz samples per second, Hz; at least 400
     * @return the frequency, Hz, or why there is none
     */
    public static Reading ofLine(double[] samples, double rateHz) {
        return find(samples, rateHz, 1, 0.5, "line waveform");
    }

    /**
     * From ripple after a full-wave rectifier, whose strongest component is at twice the line frequency; a component
     * at the line frequency (unequal half-waves) may be there too.
     *
     * @param samples any unit, oldest first; at least two and a half cycles of the lowest frequency
     * @param rateHz samples per second, Hz; at least 400
     * @return the line frequency, Hz, or why there is none
     */
    public static Reading ofRipple(double[] samples, double rateHz) {
        return find(samples, rateHz, 2, 0.3, "ripple");
    }

    private static Reading find(double[] samples, double rateHz, int order, double leastShare, String what) {
        if (!(rateHz >= 400)) {
            throw new IllegalArgumentException("sample rate must be at least 400 Hz, got " + rateHz);
        }
        Samples.require(samples, 8);
        double lengthS = samples.length / rateHz;
        if (lengthS * LOWEST_HZ < 2.5) {
            return new Missing(
                    String.format(Locale.ROOT, "a record of %.4g s is too short to tell the line frequency", lengthS));
        }
        double startHz = coarse(samples, rateHz, order);
        if (startHz <= 0) {
            return new Missing("no " + what + ": the samples do not vary, or not at any line frequency");
        }
        int harmonics = Math.max(order, Math.min(MOST_HARMONICS, (int) (0.45 * rateHz / startHz)));
        HarmonicFit fit;
        try {
            fit = new HarmonicFit(samples, rateHz, startHz, harmonics);
        } catch (IllegalArgumentException e) {
            return new Missing("no line frequency: " + e.getMessage());
        }
        double f = fit.frequencyHz();
        if (!(f > LOWEST_HZ && f < HIGHEST_HZ)) {
            return new Missing(
                    String.format(Locale.ROOT, "no line frequency between %.0f and %.0f Hz", LOWEST_HZ, HIGHEST_HZ));
        }
        if (fit.amplitude(order) < SIGNIFICANT * fit.amplitudeU(order) || fit.explained() < leastShare) {
            return new Missing(String.format(
                    Locale.ROOT,
                    "no %s to be found: what looks most like %.2f Hz holds %.0f %% of the signal",
                    what,
                    f,
                    100 * fit.explained()));
        }
        return new Measured(f, fit.frequencyU(), 0, Math.max(1, fit.dof()), Unit.HERTZ);
    }

    /** The strongest component's frequency divided by its order; 0 if nothing stands out inside the range. */
    private static double coarse(double[] samples, double rateHz, int order) {
        int n = samples.length;
        double[] windowed = detrended(samples);
        for (int i = 0; i < n; i++) {
            windowed[i] *= 0.5 - 0.5 * Math.cos(2 * Math.PI * i / n);
        }
        double stepHz = 0.2 * rateHz / n / order;
        int steps = (int) Math.ceil((HIGHEST_HZ - LOWEST_HZ) / stepHz);
        double best = 0;
        int at = -1;
        for (int k = 0; k <= steps; k++) {
            double power = power(windowed, 2 * Math.PI * order * (LOWEST_HZ + k * stepHz) / rateHz);
            if (power > best) {
                best = power;
                at = k;
            }
        }
        return at < 0 ? 0 : LOWEST_HZ + at * stepHz;
    }

    private static double[] detrended(double[] samples) {
        double[] x = new double[samples.length];
        for (int i = 0; i < x.length; i++) {
            x[i] = i;
        }
        StraightLine trend = StraightLine.fit(x, samples);
        double[] left = new double[x.length];
        for (int i = 0; i < x.length; i++) {
            left[i] = samples[i] - trend.at(i);
        }
        // wild samples are cut to what the rest does, or one of them would drown the line
        double limit = 8 * Samples.robustSd(left);
        for (int i = 0; i < x.length && limit > 0; i++) {
            left[i] = Math.max(-limit, Math.min(limit, left[i]));
        }
        return left;
    }

    /** Squared magnitude of one Fourier component, by Goertzel's recurrence. */
    private static double power(double[] samples, double radiansPerSample) {
        double c = 2 * Math.cos(radiansPerSample);
        double s1 = 0;
        double s2 = 0;
        for (double sample : samples) {
            double s0 = sample + c * s1 - s2;
            s2 = s1;
            s1 = s0;
        }
        return s1 * s1 + s2 * s2 - c * s1 * s2;
    }
}
