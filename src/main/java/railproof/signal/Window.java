package railproof.signal;

import java.util.List;

/**
 * Windows for spectra, as sums of cosines in the periodic form (for the discrete Fourier transform).
 *
 * <p>Thread: immutable; any.
 */
public enum Window {
    /** None. */
    RECTANGULAR(1.0),
    /** Hann. */
    HANN(0.5, 0.5),
    /** Hamming. */
    HAMMING(0.54, 0.46),
    /** Blackman. */
    BLACKMAN(0.42, 0.5, 0.08),
    /** Four-term Blackman-Harris. */
    BLACKMAN_HARRIS(0.35875, 0.48829, 0.14128, 0.01168),
    /** Five-term flat top: for amplitudes. */
    FLAT_TOP(0.21557895, 0.41663158, 0.277263158, 0.083578947, 0.006947368);

    /** Made by List.of, so nobody can write to it; the checker only sees the interface. */
    @SuppressWarnings("ImmutableEnumChecker")
    private final List<Double> terms;

    Window(Double... terms) {
        this.terms = List.of(terms);
    }

    /** The weights for {@code count} samples. */
    public double[] weights(int count) {
        double[] weights = new double[count];
        // the periodic form is even about its middle
        for (int i = 0; 2 * i <= count; i++) {
            weights[i] = at((double) i / count);
            weights[(count - i) % count] = weights[i];
        }
        return weights;
    }

    /** Weight at a place in the window, 0 to 1. */
    private double at(double place) {
        // cos kx = 2 cos x cos (k-1)x - cos (k-2)x, the terms' signs alternating
        double turn = -2 * Math.cos(2 * Math.PI * place);
        double before = 0.5 * turn;
        double now = 1;
        double sum = 0;
        for (double term : terms) {
            sum += term * now;
            double next = turn * now - before;
            before = now;
            now = next;
        }
        return sum;
    }

    /** What is left of a tone's amplitude: the mean of the weights. */
    public double coherentGainRatio() {
        return terms.get(0);
    }

    /** Equivalent noise bandwidth in bins: mean of the squares over the square of the mean. */
    public double noiseBandwidthDimensionless() {
        double squares = terms.get(0) * terms.get(0);
        for (int k = 1; k < terms.size(); k++) {
            squares += 0.5 * terms.get(k) * terms.get(k);
        }
        return squares / (terms.get(0) * terms.get(0));
    }

    /** Largest loss of a tone half-way between two bins, dB, for long records. */
    public double scallopingLossDb() {
        // seen from the middle of the window all terms have the same sign, and each is a pair of shifted sinc functions
        double sum = 0;
        for (int k = 0; k < terms.size(); k++) {
            double part = sinc(0.5 - k) + sinc(0.5 + k);
            sum += terms.get(k) * 0.5 * part;
        }
        return -20 * Math.log10(Math.abs(sum) / terms.get(0));
    }

    private static double sinc(double x) {
        return Math.sin(Math.PI * x) / (Math.PI * x);
    }
}
