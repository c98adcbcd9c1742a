package railproof.signal;

/**
 * Least squares of d.c., a ramp and the line's harmonics to a record, in time linear in its length.
 *
 * <p>Method: the angles are counted from the middle of the record. Then even functions (d.c., cosines) and odd ones
 * (ramp, sines) do not touch each other, and all sums of products of two of them follow from Dirichlet's kernel
 * Σ cos(φ u) = sin(n φ/2) / sin(φ/2) and its derivative. Only the sums with the samples are added up, in blocks folded
 * about their middle, whose sines and cosines come from one table turned by the block's angle.
 */
final class LineHarmonics {
    /** Samples on each side of a block's middle sample. */
    private static final int SIDE = 127;

    private static final int BLOCK = 2 * SIDE + 1;

    private final int n;
    private final int harmonics;
    private final double radPerSample;
    private final double[][] cosines;
    private final double[][] sines;

    private LineHarmonics(int n, int harmonics, double cyclesPerSample) {
        this.n = n;
        this.harmonics = harmonics;
        radPerSample = 2 * Math.PI * cyclesPerSample;
        cosines = new double[harmonics + 1][SIDE + 1];
        sines = new double[harmonics + 1][SIDE + 1];
        for (int h = 1; h <= harmonics; h++) {
            for (int k = 0; k <= SIDE; k++) {
                cosines[h][k] = Math.cos(h * radPerSample * k);
                sines[h][k] = Math.sin(h * radPerSample * k);
            }
        }
    }

    /**
     * Fits and takes what was fitted off the record, in place.
     *
     * @param samples at least three cycles, finite
     * @param harmonics how many; the highest below half the sample rate
     * @return amplitudes (peak), index 0 unused
     */
    static double[] takeOff(double[] samples, double cyclesPerSample, int harmonics) {
        LineHarmonics line = new LineHarmonics(samples.length, harmonics, cyclesPerSample);
        double[] evenRight = new double[harmonics + 1];
        double[] oddRight = new double[harmonics + 1];
        line.addUp(samples, evenRight, oddRight);
        double[] even = new LeastSquares(line.evenSums(), evenRight).solve().coefficients();
        double[] odd = new LeastSquares(line.oddSums(), oddRight).solve().coefficients();
        line.subtract(samples, even, odd);
        double[] amplitudes = new double[harmonics + 1];
        for (int h = 1; h <= harmonics; h++) {
            amplitudes[h] = Math.hypot(even[h], odd[h]);
        }
        return amplitudes;
    }

    private void addUp(double[] y, double[] even, double[] odd) {
        double middle = 0.5 * (n - 1);
        double[] sum = new double[SIDE + 1];
        double[] difference = new double[SIDE + 1];
        for (int start = 0; start < n; start += BLOCK) {
            int centre = start + SIDE;
            sum[0] = centre < n ? y[centre] : 0;
            for (int k = 1; k <= SIDE; k++) {
                double right = centre + k < n ? y[centre + k] : 0;
                double left = centre - k < n ? y[centre - k] : 0;
                sum[k] = right + left;
                difference[k] = right - left;
            }
            double plain = 0;
            double arm = 0;
            for (int k = 0; k <= SIDE; k++) {
                plain += sum[k];
                arm += k * difference[k];
            }
            even[0] += plain;
            odd[0] += (arm + (centre - middle) * plain) / n;
            for (int h = 1; h <= harmonics; h++) {
                double c = dot(sum, cosines[h]);
                double s = dot(difference, sines[h]);
                double angle = h * radPerSample * (centre - middle);
                even[h] += Math.cos(angle) * c - Math.sin(angle) * s;
                odd[h] += Math.sin(angle) * c + Math.cos(angle) * s;
            }
        }
    }

    private static double dot(double[] a, double[] b) {
        double s0 = 0;
        double s1 = 0;
        double s2 = 0;
        double s3 = 0;
        for (int k = 0; k + 3 < a.length; k += 4) {
            s0 += a[k] * b[k];
            s1 += a[k + 1] * b[k + 1];
            s2 += a[k + 2] * b[k + 2];
            s3 += a[k + 3] * b[k + 3];
        }
        return s0 + s1 + (s2 + s3);
    }

    private void subtract(double[] y, double[] even, double[] odd) {
        double middle = 0.5 * (n - 1);
        for (int start = 0; start < n; start += BLOCK) {
            int centre = start + SIDE;
            double[] same = new double[SIDE + 1];
            double[] opposite = new double[SIDE + 1];
            for (int h = 1; h <= harmonics; h++) {
                double angle = h * radPerSample * (centre - middle);
                double a = even[h] * Math.cos(angle) + odd[h] * Math.sin(angle);
                double b = odd[h] * Math.cos(angle) - even[h] * Math.sin(angle);
                addTo(same, a, cosines[h]);
                addTo(opposite, b, sines[h]);
            }
            for (int k = -SIDE; k <= SIDE && centre + k < n; k++) {
                double line = k < 0 ? same[-k] - opposite[-k] : same[k] + opposite[k];
                y[centre + k] -= even[0] + odd[0] * (centre + k - middle) / n + line;
            }
        }
    }

    private static void addTo(double[] sum, double factor, double[] table) {
        for (int k = 0; k < sum.length; k++) {
            sum[k] += factor * table[k];
        }
    }

    /** Sums of products of 1 and the cosines. */
    private double[][] evenSums() {
        double[][] sums = new double[harmonics + 1][harmonics + 1];
        for (int h = 0; h <= harmonics; h++) {
            for (int k = 0; k <= harmonics; k++) {
                sums[h][k] = 0.5 * (kernel((h - k) * radPerSample) + kernel((h + k) * radPerSample));
            }
        }
        return sums;
    }

    /** Sums of products of the ramp u/n and the sines. */
    private double[][] oddSums() {
        double[][] sums = new double[harmonics + 1][harmonics + 1];
        sums[0][0] = (n - 1.0 / n) / 12;
        for (int h = 1; h <= harmonics; h++) {
            sums[h][0] = slopeKernel(h * radPerSample) / n;
            sums[0][h] = sums[h][0];
            for (int k = 1; k <= harmonics; k++) {
                sums[h][k] = 0.5 * (kernel((h - k) * radPerSample) - kernel((h + k) * radPerSample));
            }
        }
        return sums;
    }

    /** Σ cos(φ u) over the record, u from its middle; φ above −2π and below 2π. */
    private double kernel(double angle) {
        double x = 0.5 * Math.abs(angle);
        boolean folded = x > 0.5 * Math.PI;
        double reduced = folded ? x - Math.PI : x;
        double value = Math.abs(reduced) < 1e-12 ? n : Math.sin(n * reduced) / Math.sin(reduced);
        return folded && n % 2 == 0 ? -value : value;
    }

    /** Σ u sin(φ u), minus the kernel's derivative; φ above zero and below π. */
    private double slopeKernel(double angle) {
        double x = 0.5 * angle;
        double sin = Math.sin(x);
        return 0.5 * (Math.sin(n * x) * Math.cos(x) - n * Math.cos(n * x) * sin) / (sin * sin);
    }
}
