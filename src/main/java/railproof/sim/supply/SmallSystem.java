package railproof.sim.supply;

import java.util.Arrays;

/**
 * Linear nodal equations of one rail with two right-hand sides: the ordinary one and the response to one volt on the
 * transformer core. The last row and column stand for ground and are never solved, which keeps stamping free of
 * branches.
 *
 * <p>Elimination goes down the diagonal without pivoting: every node has a resistor or a junction leak on its
 * diagonal, and the caller treats a failed elimination as a failed step. Which entries can be other than zero is
 * learnt from the stamps, so that elimination visits only those.
 */
final class SmallSystem {
    private static final double TINY_PER_OHM = 1e-18;

    private final int size;
    private final int width;
    private final double[] matrix;
    private final double[] inversePivotOhm;
    private final boolean[] used;
    /** For each pivot: columns right of it, and rows below it, that it touches. */
    private int[][] columns = new int[0][];

    private int[][] rows = new int[0][];
    private boolean planned;

    final double[] sourceA;
    final double[] coreA;

    SmallSystem(int size) {
        this.size = size;
        this.width = size + 1;
        matrix = new double[width * width];
        used = new boolean[width * width];
        inversePivotOhm = new double[width];
        sourceA = new double[width];
        coreA = new double[width];
    }

    /** Index of the ground node. */
    int ground() {
        return size;
    }

    void clear() {
        Arrays.fill(matrix, 0);
        Arrays.fill(sourceA, 0);
        Arrays.fill(coreA, 0);
    }

    void copyFrom(SmallSystem other) {
        System.arraycopy(other.matrix, 0, matrix, 0, matrix.length);
        System.arraycopy(other.sourceA, 0, sourceA, 0, sourceA.length);
        System.arraycopy(other.coreA, 0, coreA, 0, coreA.length);
    }

    /** Takes over the other system's idea of which entries are in use. */
    void adoptPattern(SmallSystem other) {
        for (int i = 0; i < used.length; i++) {
            if (other.used[i] && !used[i]) {
                used[i] = true;
                planned = false;
            }
        }
    }

    /** A conductance between two nodes, 1/Ω. */
    void conductance(int a, int b, double perOhm) {
        add(a, a, perOhm);
        add(b, b, perOhm);
        add(a, b, -perOhm);
        add(b, a, -perOhm);
    }

    void resistor(int a, int b, double ohm) {
        conductance(a, b, 1 / ohm);
    }

    /** Adds {@code perOhm} to the current that leaves node {@code row} per volt on node {@code column}. */
    void add(int row, int column, double perOhm) {
        int index = row * width + column;
        matrix[index] += perOhm;
        if (!used[index]) {
            used[index] = true;
            planned = false;
        }
    }

    /** A current pushed into a node by a source, A. */
    void inject(int node, double currentA) {
        sourceA[node] += currentA;
    }

    /** Puts a known core voltage into the ordinary right-hand side. */
    void settleCore(double coreV) {
        for (int i = 0; i < size; i++) {
            sourceA[i] += coreV * coreA[i];
            coreA[i] = 0;
        }
    }

    /**
     * Solves in place; {@link #sourceA} and, if asked for, {@link #coreA} then hold node voltages (per volt of core
     * for the latter).
     *
     * @return whether the elimination went through
     */
    boolean solve(boolean withCore) {
        if (!planned) {
            plan();
        }
        for (int pivot = 0; pivot < size; pivot++) {
            int from = pivot * width;
            double pivotPerOhm = matrix[from + pivot];
            if (!(Math.abs(pivotPerOhm) > TINY_PER_OHM)) {
                return false;
            }
            double inverseOhm = 1 / pivotPerOhm;
            inversePivotOhm[pivot] = inverseOhm;
            int[] right = columns[pivot];
            for (int row : rows[pivot]) {
                int to = row * width;
                double factor = matrix[to + pivot] * inverseOhm;
                for (int column : right) {
                    matrix[to + column] -= factor * matrix[from + column];
                }
                sourceA[row] -= factor * sourceA[pivot];
                if (withCore) {
                    coreA[row] -= factor * coreA[pivot];
                }
            }
        }
        back(sourceA);
        if (withCore) {
            back(coreA);
        }
        return true;
    }

    private void back(double[] side) {
        for (int row = size - 1; row >= 0; row--) {
            double sum = side[row];
            int from = row * width;
            for (int column : columns[row]) {
                sum -= matrix[from + column] * side[column];
            }
            side[row] = sum * inversePivotOhm[row];
        }
    }

    /** Works out which entries fill in. */
    private void plan() {
        boolean[] filled = used.clone();
        columns = new int[size][];
        rows = new int[size][];
        for (int pivot = 0; pivot < size; pivot++) {
            int[] right = new int[size];
            int[] below = new int[size];
            int rightCount = 0;
            int belowCount = 0;
            for (int other = pivot + 1; other < size; other++) {
                if (filled[pivot * width + other]) {
                    right[rightCount++] = other;
                }
                if (filled[other * width + pivot]) {
                    below[belowCount++] = other;
                }
            }
            columns[pivot] = Arrays.copyOf(right, rightCount);
            rows[pivot] = Arrays.copyOf(below, belowCount);
            for (int row : rows[pivot]) {
                for (int column : columns[pivot]) {
                    filled[row * width + column] = true;
                }
            }
        }
        planned = true;
    }
}
