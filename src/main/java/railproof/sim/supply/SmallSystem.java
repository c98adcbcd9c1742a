package railproof.sim.supply;

/**
 * Linear nodal equations of one rail with two right-hand sides: the ordinary one and the response to one volt on the
 * transformer core. The last row and column stand for ground and are never solved, which keeps stamping free of
 * branches.
 *
 * <p>Elimination goes down the diagonal without pivoting: every node has a resistor or a junction leak on its
 * diagonal, and the caller treats a failed elimination as a failed step.
 */
final class SmallSystem {
    private static final double TINY_PER_OHM = 1e-18;

    private final int size;
    private final int width;
    private final double[] matrix;
    final double[] sourceA;
    final double[] coreA;

    SmallSystem(int size) {
        this.size = size;
        this.width = size + 1;
        matrix = new double[width * width];
        sourceA = new double[width];
        coreA = new double[width];
    }

    /** Index of the ground node. */
    int ground() {
        return size;
    }

    void clear() {
        java.util.Arrays.fill(matrix, 0);
        java.util.Arrays.fill(sourceA, 0);
        java.util.Arrays.fill(coreA, 0);
    }

    void copyMatrixFrom(SmallSystem other) {
        System.arraycopy(other.matrix, 0, matrix, 0, matrix.length);
        java.util.Arrays.fill(sourceA, 0);
        System.arraycopy(other.coreA, 0, coreA, 0, coreA.length);
    }

    void copyFrom(SmallSystem other) {
        System.arraycopy(other.matrix, 0, matrix, 0, matrix.length);
        System.arraycopy(other.sourceA, 0, sourceA, 0, sourceA.length);
        System.arraycopy(other.coreA, 0, coreA, 0, coreA.length);
    }

    /** A conductance between two nodes, 1/Ω. */
    void conductance(int a, int b, double perOhm) {
        matrix[a * width + a] += perOhm;
        matrix[b * width + b] += perOhm;
        matrix[a * width + b] -= perOhm;
        matrix[b * width + a] -= perOhm;
    }

    void resistor(int a, int b, double ohm) {
        conductance(a, b, 1 / ohm);
    }

    /** Adds {@code perOhm} to the current that leaves node {@code row} per volt on node {@code column}. */
    void add(int row, int column, double perOhm) {
        matrix[row * width + column] += perOhm;
    }

    /** A current pushed into a node by a source, A. */
    void inject(int node, double currentA) {
        sourceA[node] += currentA;
    }

    /**
     * Solves in place; {@link #sourceA} and {@link #coreA} then hold node voltages (per volt of core for the latter).
     *
     * @return whether the elimination went through
     */
    boolean solve(boolean withCore) {
        for (int pivot = 0; pivot < size; pivot++) {
            double pivotPerOhm = matrix[pivot * width + pivot];
            if (!(Math.abs(pivotPerOhm) > TINY_PER_OHM)) {
                return false;
            }
            double inverse = 1 / pivotPerOhm;
            for (int row = pivot + 1; row < size; row++) {
                double factor = matrix[row * width + pivot];
                if (factor != 0) {
                    eliminate(pivot, row, factor * inverse);
                }
            }
        }
        back(sourceA);
        if (withCore) {
            back(coreA);
        }
        return true;
    }

    private void eliminate(int pivot, int row, double factor) {
        int from = pivot * width;
        int to = row * width;
        for (int column = pivot + 1; column < size; column++) {
            matrix[to + column] -= factor * matrix[from + column];
        }
        sourceA[row] -= factor * sourceA[pivot];
        coreA[row] -= factor * coreA[pivot];
    }

    private void back(double[] side) {
        for (int row = size - 1; row >= 0; row--) {
            double sum = side[row];
            for (int column = row + 1; column < size; column++) {
                sum -= matrix[row * width + column] * side[column];
            }
            side[row] = sum / matrix[row * width + row];
        }
    }
}
