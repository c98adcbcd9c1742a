package railproof.signal;

import java.util.Arrays;

/**
 * Least-squares fit of d.c., a ramp, a fundamental and its harmonics to a record, the fundamental's frequency included:
 * IEEE Std 1057's four-parameter sine fit with the harmonics added, without which they would pull the frequency.
 */
final class HarmonicFit {
    private static final int MOST_ROUNDS = 12;
    private static final int MOST_CLEANINGS = 4;
    private static final double WILD = 6;

    private final double[] y;
    private final double rateHz;
    private final int harmonics;
    private boolean[] used;
    private double frequencyHz;
    private LeastSquares.Solution solution;
    private double residualSdDimensionless;
    private double explainedRatio;
    private double lag1Dimensionless;
    private int usedCount;

    /** Fits; the start value must be within about half a line width, 1 / (2 × record length), of the truth. */
    HarmonicFit(double[] y, double rateHz, double startHz, int harmonics) {
        this.y = y;
        this.rateHz = rateHz;
        this.harmonics = harmonics;
        this.used = new boolean[y.length];
        Arrays.fill(used, true);
        usedCount = y.length;
        frequencyHz = startHz;
        solution = fitAt(false);
        iterate();
        // a very wild sample bends the first fit and hides the less wild ones until it is gone
        for (int round = 0; round < MOST_CLEANINGS && dropWild(); round++) {
            iterate();
        }
    }

    double frequencyHz() {
        return frequencyHz;
    }

    /** Standard uncertainty of the frequency, Hz; correlated residuals widen it. */
    double frequencyU() {
        int last = unknowns() - 1;
        double r = Math.min(0.99, Math.max(0, lag1Dimensionless));
        return residualSdDimensionless * Math.sqrt(solution.inverse()[last][last] * (1 + r) / (1 - r));
    }

    double amplitude(int harmonic) {
        return Math.hypot(cosine(harmonic), sine(harmonic));
    }

    /** Standard uncertainty of an amplitude. */
    double amplitudeU(int harmonic) {
        int i = 2 * harmonic;
        double[][] inverse = solution.inverse();
        return residualSdDimensionless * Math.sqrt(0.5 * (inverse[i][i] + inverse[i + 1][i + 1]));
    }

    /** Share of the variance that the periodic part explains, 0 to 1. */
    double explained() {
        return explainedRatio;
    }

    double dof() {
        return usedCount - unknowns();
    }

    private double cosine(int harmonic) {
        return solution.coefficients()[2 * harmonic];
    }

    private double sine(int harmonic) {
        return solution.coefficients()[2 * harmonic + 1];
    }

    private int unknowns() {
        return 3 + 2 * harmonics;
    }

    private double timeS(int i) {
        return (i - 0.5 * (y.length - 1)) / rateHz;
    }

    private double lengthS() {
        return y.length / rateHz;
    }

    private void iterate() {
        double cap = 0.25 / lengthS();
        for (int round = 0; round < MOST_ROUNDS; round++) {
            solution = fitAt(true);
            double step = solution.coefficients()[unknowns() - 1];
            frequencyHz += Math.max(-cap, Math.min(cap, step));
            if (Math.abs(step) < 1e-10 * frequencyHz) {
                break;
            }
        }
        residuals();
    }

    private LeastSquares.Solution fitAt(boolean withFrequency) {
        LeastSquares squares = new LeastSquares(unknowns() - (withFrequency ? 0 : 1));
        double[] row = new double[unknowns()];
        for (int i = 0; i < y.length; i++) {
            if (used[i]) {
                fillRow(row, i);
                squares.add(row, y[i]);
            }
        }
        return squares.solve();
    }

    private void fillRow(double[] row, int i) {
        double t = timeS(i);
        double turn = 2 * Math.PI * t;
        row[0] = 1;
        row[1] = 2 * t / lengthS();
        double byFrequency = 0;
        // the harmonics by turning on from one to the next: one sine and cosine a sample instead of one for each
        double turnCos = Math.cos(turn * frequencyHz);
        double turnSin = Math.sin(turn * frequencyHz);
        double c = 1;
        double s = 0;
        for (int h = 1; h <= harmonics; h++) {
            double next = c * turnCos - s * turnSin;
            s = s * turnCos + c * turnSin;
            c = next;
            row[2 * h] = c;
            row[2 * h + 1] = s;
            if (solution != null) {
                byFrequency += turn * h * (sine(h) * c - cosine(h) * s);
            }
        }
        row[unknowns() - 1] = byFrequency;
    }

    private double[] residuals() {
        double[] left = new double[y.length];
        double[] row = new double[unknowns()];
        double rss = 0;
        double periodic = 0;
        double products = 0;
        for (int i = 0; i < y.length; i++) {
            fillRow(row, i);
            double straight = 0;
            double wave = 0;
            for (int k = 0; k < unknowns() - 1; k++) {
                double part = row[k] * solution.coefficients()[k];
                straight += k < 2 ? part : 0;
                wave += k < 2 ? 0 : part;
            }
            left[i] = y[i] - straight - wave;
            if (used[i]) {
                rss += left[i] * left[i];
                periodic += wave * wave;
                products += i > 0 && used[i - 1] ? left[i] * left[i - 1] : 0;
            }
        }
        residualSdDimensionless = Math.sqrt(rss / Math.max(1, usedCount - unknowns()));
        explainedRatio = periodic / (rss + periodic);
        lag1Dimensionless = rss > 0 ? products / rss : 0;
        return left;
    }

    /**
     * Takes samples far from the fit out of it, at most one in fifty, and lets those back in that a better fit reaches.
     *
     * @return whether that changed anything
     */
    private boolean dropWild() {
        double[] left = residuals();
        double[] sizes = new double[y.length];
        for (int i = 0; i < y.length; i++) {
            sizes[i] = Math.abs(left[i]);
        }
        Arrays.sort(sizes);
        double limit = Math.max(WILD * Samples.robustSd(left), sizes[y.length - 1 - y.length / 50]);
        boolean[] keep = new boolean[y.length];
        int kept = 0;
        for (int i = 0; i < y.length; i++) {
            keep[i] = Math.abs(left[i]) <= limit;
            kept += keep[i] ? 1 : 0;
        }
        if (Arrays.equals(keep, used)) {
            return false;
        }
        used = keep;
        usedCount = kept;
        return true;
    }
}
