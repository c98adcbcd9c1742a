package railproof.signal;

import java.util.List;
import java.util.function.ToDoubleFunction;

/**
 * Means of quantities that were read together several times, with their covariance, and what follows for results
 * computed from them (GUM, JCGM 100:2008, 5.2 and H.2): voltage and current of one load point, for instance, are
 * shaken by the same line.
 *
 * <p>Thread: immutable; any.
 */
public final class JointMeans {
    /** Relative step of the numerical derivatives: cube root of the double's resolution. */
    private static final double STEP_RATIO = 6e-6;

    private final double[] means;
    private final double[][] covariances;

    private JointMeans(double[] means, double[][] covariances) {
        this.means = means;
        this.covariances = covariances;
    }

    /**
     * Of series taken together.
     *
     * @param series one array per quantity, all of the same length of at least 2
     */
    public static JointMeans of(List<double[]> series) {
        int n = series.get(0).length;
        int m = series.size();
        double[] means = new double[m];
        for (int i = 0; i < m; i++) {
            Samples.require(series.get(i), 2);
            if (series.get(i).length != n) {
                throw new IllegalArgumentException("series of unequal length: " + n + " and " + series.get(i).length);
            }
            means[i] = Statistics.mean(series.get(i));
        }
        double[][] covariances = new double[m][m];
        for (int i = 0; i < m; i++) {
            for (int j = 0; j < m; j++) {
                for (int k = 0; k < n; k++) {
                    covariances[i][j] += (series.get(i)[k] - means[i]) * (series.get(j)[k] - means[j]);
                }
                covariances[i][j] /= (double) n * (n - 1);
            }
        }
        return new JointMeans(means, covariances);
    }

    /** Mean of the quantity at that index. */
    public double mean(int index) {
        return means[index];
    }

    /** Standard uncertainty of the mean at that index. */
    public double standardU(int index) {
        return Math.sqrt(covariances[index][index]);
    }

    /** Correlation of two means, −1 to 1; 0 where one does not vary. */
    public double correlation(int first, int second) {
        double product = standardU(first) * standardU(second);
        return product > 0 ? covariances[first][second] / product : 0;
    }

    /**
     * Means and covariance of results computed from these means, to first order, correlations used.
     *
     * @param results functions of the array of means, smooth there
     */
    public JointMeans results(List<ToDoubleFunction<double[]>> results) {
        int outputs = results.size();
        double[] values = new double[outputs];
        double[][] slopes = new double[outputs][means.length];
        for (int i = 0; i < outputs; i++) {
            values[i] = results.get(i).applyAsDouble(means.clone());
            for (int j = 0; j < means.length; j++) {
                slopes[i][j] = slope(results.get(i), j);
            }
        }
        double[][] covariance = new double[outputs][outputs];
        for (int a = 0; a < outputs; a++) {
            for (int b = 0; b < outputs; b++) {
                for (int i = 0; i < means.length; i++) {
                    for (int j = 0; j < means.length; j++) {
                        covariance[a][b] += slopes[a][i] * slopes[b][j] * covariances[i][j];
                    }
                }
            }
        }
        return new JointMeans(values, covariance);
    }

    private double slope(ToDoubleFunction<double[]> result, int index) {
        double scale = Math.max(Math.abs(means[index]), standardU(index));
        double step = scale > 0 ? STEP_RATIO * scale : STEP_RATIO;
        double[] up = means.clone();
        double[] down = means.clone();
        up[index] += step;
        down[index] -= step;
        return (result.applyAsDouble(up) - result.applyAsDouble(down)) / (up[index] - down[index]);
    }
}
