package railproof.signal;

/**
 * One-sided spectrum of a record: amplitudes per bin, by a fast Fourier transform of radix two. Records whose length is
 * no power of two are windowed whole and padded with zeros.
 *
 * <p>Thread: immutable; any.
 */
public final class Spectrum {
    private final double[] amplitudes;
    private final double binHz;
    private final double[] powers;

    private Spectrum(double[] amplitudes, double[] powers, double binHz) {
        this.amplitudes = amplitudes;
        this.powers = powers;
        this.binHz = binHz;
    }

    /**
     * Computes.
     *
     * @param samples at least 2, finite
     * @param rateHz samples per second, Hz
     * @param window window put over the record
     */
    public static Spectrum of(double[] samples, double rateHz, Window window) {
        Samples.require(samples, 2);
        Samples.requirePositive("sample rate", rateHz);
        int n = samples.length;
        int size = Integer.highestOneBit(n - 1) << 1;
        double[] weights = window.weights(n);
        // two real samples make one complex one: half the work
        double[] re = new double[size / 2];
        double[] im = new double[size / 2];
        for (int i = 0; i < n; i++) {
            (i % 2 == 0 ? re : im)[i / 2] = samples[i] * weights[i];
        }
        Fourier.forward(re, im);
        double[] magnitudes = Fourier.realMagnitudes(re, im);
        double[] amplitudes = new double[size / 2 + 1];
        double[] powers = new double[size / 2 + 1];
        for (int i = 0; i < amplitudes.length; i++) {
            double once = i == 0 || i == size / 2 ? 1 : 2;
            amplitudes[i] = once * magnitudes[i] / (n * window.coherentGainRatio());
            powers[i] = once * magnitudes[i] * magnitudes[i];
        }
        return new Spectrum(amplitudes, powers, rateHz / size);
    }

    /** Number of bins, d.c. and half the sample rate included. */
    public int bins() {
        return amplitudes.length;
    }

    /** Spacing of the bins, Hz. */
    public double binHz() {
        return binHz;
    }

    /** Amplitude (peak) of a tone in that bin, in the samples' unit; bin 0 is the d.c. */
    public double amplitude(int bin) {
        return amplitudes[bin];
    }

    /** Share of the record's power that lies at or above a frequency, 0 to 1; 0 for a record of zeros. */
    public double shareAbove(double frequencyHz) {
        double all = 0;
        double above = 0;
        for (int i = 0; i < powers.length; i++) {
            all += powers[i];
            above += i * binHz >= frequencyHz ? powers[i] : 0;
        }
        return all > 0 ? above / all : 0;
    }

    /** Share of the record's power within so many bins of a frequency, 0 to 1; 0 for a record of zeros. */
    public double shareNear(double frequencyHz, int binsAside) {
        double all = 0;
        double near = 0;
        for (int i = 0; i < powers.length; i++) {
            all += powers[i];
            near += Math.abs(i - frequencyHz / binHz) <= binsAside ? powers[i] : 0;
        }
        return all > 0 ? near / all : 0;
    }

    /** Frequency of the strongest bin above d.c., Hz, refined by a parabola through its neighbours' logarithms. */
    public double strongestHz() {
        int best = 1;
        for (int i = 1; i < amplitudes.length; i++) {
            best = amplitudes[i] > amplitudes[best] ? i : best;
        }
        if (best + 1 >= amplitudes.length || amplitudes[best - 1] <= 0 || amplitudes[best + 1] <= 0) {
            return best * binHz;
        }
        double left = Math.log(amplitudes[best - 1]);
        double middle = Math.log(amplitudes[best]);
        double right = Math.log(amplitudes[best + 1]);
        double curve = left - 2 * middle + right;
        return (best + (curve < 0 ? 0.5 * (left - right) / curve : 0)) * binHz;
    }
}
