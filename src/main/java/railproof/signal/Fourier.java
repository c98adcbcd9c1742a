package railproof.signal;

/**
 * Fast Fourier transform of radix two, in place. The first stages are done block by block, so that a block stays in the
 * processor's cache until it has gone through all of them.
 */
final class Fourier {
    private static final int BLOCK = 4096;

    private Fourier() {}

    /** Forward transform of a complex series; the length is a power of two. */
    static void forward(double[] re, double[] im) {
        int n = re.length;
        reverse(re, im);
        double[][] turns = turns(n);
        int block = Math.min(n, BLOCK);
        for (int start = 0; start < n; start += block) {
            for (int length = 2; length <= block; length <<= 1) {
                butterflies(re, im, start, start + block, length, turns);
            }
        }
        for (int length = 2 * block; length <= n; length <<= 1) {
            butterflies(re, im, 0, n, length, turns);
        }
    }

    /**
     * Magnitudes of a real series' transform from d.c. to half the sample rate, from the transform of its even samples
     * plus i times its odd ones.
     */
    static double[] realMagnitudes(double[] re, double[] im) {
        int half = re.length;
        double[][] turns = turns(2 * half);
        double[] magnitudes = new double[half + 1];
        for (int k = 0; k <= half; k++) {
            int a = k % half;
            int b = (half - k) % half;
            double evenRe = 0.5 * (re[a] + re[b]);
            double evenIm = 0.5 * (im[a] - im[b]);
            double oddRe = 0.5 * (im[a] + im[b]);
            double oddIm = 0.5 * (re[b] - re[a]);
            double c = k < half ? turns[0][k] : -1;
            double s = k < half ? turns[1][k] : 0;
            double sumRe = evenRe + c * oddRe - s * oddIm;
            double sumIm = evenIm + c * oddIm + s * oddRe;
            magnitudes[k] = Math.sqrt(sumRe * sumRe + sumIm * sumIm);
        }
        return magnitudes;
    }

    /** cos and sin of −2πk/n for k below n/2; an eighth of them computed, the others mirrored. */
    private static double[][] turns(int n) {
        int half = n / 2;
        double[] c = new double[half];
        double[] s = new double[half];
        for (int k = 0; k < half; k++) {
            if (8L * k <= n) {
                c[k] = Math.cos(2 * Math.PI * k / n);
                s[k] = -Math.sin(2 * Math.PI * k / n);
            } else if (4L * k <= n) {
                c[k] = -s[n / 4 - k];
                s[k] = -c[n / 4 - k];
            } else {
                c[k] = -c[half - k];
                s[k] = s[half - k];
            }
        }
        return new double[][] {c, s};
    }

    private static void butterflies(double[] re, double[] im, int from, int to, int length, double[][] turns) {
        int half = length / 2;
        int stride = re.length / length;
        double[] cosines = turns[0];
        double[] sines = turns[1];
        for (int start = from; start < to; start += length) {
            for (int k = 0; k < half; k++) {
                double c = cosines[k * stride];
                double s = sines[k * stride];
                int i = start + k;
                int j = i + half;
                double tr = re[j] * c - im[j] * s;
                double ti = re[j] * s + im[j] * c;
                re[j] = re[i] - tr;
                im[j] = im[i] - ti;
                re[i] += tr;
                im[i] += ti;
            }
        }
    }

    private static void reverse(double[] re, double[] im) {
        int n = re.length;
        for (int i = 1, j = 0; i < n; i++) {
            int bit = n >> 1;
            for (; (j & bit) != 0; bit >>= 1) {
                j ^= bit;
            }
            j ^= bit;
            if (i < j) {
                swap(re, i, j);
                swap(im, i, j);
            }
        }
    }

    private static void swap(double[] a, int i, int j) {
        double t = a[i];
        a[i] = a[j];
        a[j] = t;
    }
}
