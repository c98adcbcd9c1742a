package railproof.signal;

/**
 * Linear least squares by normal equations, row by row, solved by Cholesky's method. Meant for columns that are scaled
 * to about one and far from parallel (sines, a centred ramp); not for polynomials of high order.
 */
final class LeastSquares {
    private final int n;
    private final double[][] normal;
    private final double[] right;

    LeastSquares(int unknowns) {
        n = unknowns;
        normal = new double[n][n];
        right = new double[n];
    }

    /** From sums that are known already. */
    LeastSquares(double[][] normal, double[] right) {
        n = right.length;
        this.normal = normal;
        this.right = right;
    }

    void add(double[] row, double y) {
        for (int i = 0; i < n; i++) {
            right[i] += row[i] * y;
            for (int j = 0; j <= i; j++) {
                normal[i][j] += row[i] * row[j];
            }
        }
    }

    /** The coefficients and the inverse of the normal matrix. */
    Solution solve() {
        double[][] lower = cholesky();
        double[][] inverse = new double[n][n];
        for (int k = 0; k < n; k++) {
            double[] unit = new double[n];
            unit[k] = 1;
            inverse[k] = backSolve(lower, unit);
        }
        return new Solution(backSolve(lower, right), inverse);
    }

    private double[][] cholesky() {
        double[][] l = new double[n][n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j <= i; j++) {
                double sum = normal[i][j];
                for (int k = 0; k < j; k++) {
                    sum -= l[i][k] * l[j][k];
                }
                if (i != j) {
                    l[i][j] = sum / l[j][j];
                } else if (sum > 1e-13 * normal[i][i]) {
                    l[i][i] = Math.sqrt(sum);
                } else {
                    throw new IllegalArgumentException("the samples do not determine the fit: column " + i
                            + " depends on the others (record too short, or sampled in step with the signal)");
                }
            }
        }
        return l;
    }

    private double[] backSolve(double[][] l, double[] y) {
        double[] x = new double[n];
        for (int i = 0; i < n; i++) {
            double sum = y[i];
            for (int k = 0; k < i; k++) {
                sum -= l[i][k] * x[k];
            }
            x[i] = sum / l[i][i];
        }
        for (int i = n - 1; i >= 0; i--) {
            double sum = x[i];
            for (int k = i + 1; k < n; k++) {
                sum -= l[k][i] * x[k];
            }
            x[i] = sum / l[i][i];
        }
        return x;
    }

    /** Solved: coefficients and the inverse of the normal matrix. Nobody writes to the arrays. */
    static final class Solution {
        private final double[] coefficients;
        private final double[][] inverse;

        private Solution(double[] coefficients, double[][] inverse) {
            this.coefficients = coefficients;
            this.inverse = inverse;
        }

        double[] coefficients() {
            return coefficients;
        }

        double[][] inverse() {
            return inverse;
        }
    }
}
