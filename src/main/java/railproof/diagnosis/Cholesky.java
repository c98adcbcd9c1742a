package railproof.diagnosis;

/** Factor of a symmetric, positive definite matrix. Immutable. */
final class Cholesky {
    private final double[][] lower;

    private Cholesky(double[][] lower) {
        this.lower = lower;
    }

    static Cholesky of(double[][] matrix) {
        int n = matrix.length;
        double[][] lower = new double[n][];
        for (int i = 0; i < n; i++) {
            double[] row = new double[i + 1];
            for (int j = 0; j <= i; j++) {
                double[] other = j == i ? row : lower[j];
                double sum = matrix[i][j];
                for (int k = 0; k < j; k++) {
                    sum -= row[k] * other[k];
                }
                // rounding to single precision on its way through a file must not break it
                row[j] = i == j ? Math.sqrt(Math.max(sum, 1e-12)) : sum / other[j];
            }
            lower[i] = row;
        }
        return new Cholesky(lower);
    }

    /** L⁻¹ b, in place. */
    void forward(double[] b) {
        for (int i = 0; i < b.length; i++) {
            double[] row = lower[i];
            double sum = b[i];
            for (int k = 0; k < i; k++) {
                sum -= row[k] * b[k];
            }
            b[i] = sum / row[i];
        }
    }

    /** A⁻¹ b. */
    double[] solve(double[] b) {
        double[] x = b.clone();
        forward(x);
        for (int i = x.length - 1; i >= 0; i--) {
            double sum = x[i];
            for (int k = i + 1; k < x.length; k++) {
                sum -= lower[k][i] * x[k];
            }
            x[i] = sum / lower[i][i];
        }
        return x;
    }

    /** L b. */
    double[] times(double[] b) {
        double[] x = new double[b.length];
        for (int i = 0; i < x.length; i++) {
            for (int k = 0; k <= i; k++) {
                x[i] += lower[i][k] * b[k];
            }
        }
        return x;
    }

    /** Natural logarithm of the determinant. */
    double logDeterminant() {
        double sum = 0;
        for (int i = 0; i < lower.length; i++) {
            sum += Math.log(lower[i][i]);
        }
        return 2 * sum;
    }
}
