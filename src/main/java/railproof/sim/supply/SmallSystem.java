package railproof.sim.supply;

import java.util.Arrays;

/**
 * Linear nodal equations of one rail with two right-hand sides: the ordinary one and the response to one volt on the
 * transformer core. The last row and column stand for ground and are never solved, which keeps stamping free of
 * branches.
 *
 * <p>Elimination goes down the diagonal without pivoting: every node has a resistor or a junction leak on its
 * diagonal, and the caller treats a failed elimination as a failed step. Which entries can be other than zero is
 * declared beforehand; from that the multiplications are listed once and then only gone through.
 */
final class SmallSystem {
    private static final double TINY_PER_OHM = 1e-18;

    private final int size;
    private final int width;
    private final double[] inversePivotOhm;
    private final boolean[] used;
    private Plan plan = new Plan(0);
    private boolean planned;

    /** Row after row; {@link #index} says where an entry lies. */
    final double[] matrix;

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

    /** Place in {@link #matrix} of what leaves node {@code row} per volt on node {@code column}. */
    int index(int row, int column) {
        return row * width + column;
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

    /** Declares that something will join these nodes, each with each. */
    void joins(int... nodes) {
        for (int row : nodes) {
            for (int column : nodes) {
                declare(row * width + column);
            }
        }
    }

    /** Declares every entry in which another system holds something. */
    void holdsWhatIsIn(SmallSystem other) {
        for (int i = 0; i < used.length; i++) {
            if (other.matrix[i] != 0) {
                declare(i);
            }
        }
    }

    private void declare(int index) {
        if (!used[index]) {
            used[index] = true;
            planned = false;
        }
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
            plan = plan();
            planned = true;
        }
        if (!eliminate()) {
            return false;
        }
        substitute(sourceA);
        if (withCore) {
            substitute(coreA);
        }
        return true;
    }

    private boolean eliminate() {
        int[] lowers = plan.lower;
        int[] targets = plan.target;
        int[] factors = plan.factor;
        int[] sources = plan.source;
        int lower = 0;
        int update = 0;
        for (int pivot = 0; pivot < size; pivot++) {
            double pivotPerOhm = matrix[pivot * width + pivot];
            if (!(Math.abs(pivotPerOhm) > TINY_PER_OHM)) {
                return false;
            }
            double inverseOhm = 1 / pivotPerOhm;
            inversePivotOhm[pivot] = inverseOhm;
            for (int end = plan.lowerEnd[pivot]; lower < end; lower++) {
                matrix[lowers[lower]] *= inverseOhm;
            }
            for (int end = plan.updateEnd[pivot]; update < end; update++) {
                matrix[targets[update]] -= matrix[factors[update]] * matrix[sources[update]];
            }
        }
        return true;
    }

    private void substitute(double[] side) {
        for (int i = 0; i < plan.lower.length; i++) {
            side[plan.lowerRow[i]] -= matrix[plan.lower[i]] * side[plan.lowerPivot[i]];
        }
        int upper = 0;
        for (int row = size - 1; row >= 0; row--) {
            double sum = side[row];
            for (int end = plan.upperEnd[row]; upper < end; upper++) {
                sum -= matrix[plan.upper[upper]] * side[plan.upperColumn[upper]];
            }
            side[row] = sum * inversePivotOhm[row];
        }
    }

    /** Works out which entries fill in, and lists what is to be multiplied with what. */
    private Plan plan() {
        boolean[] filled = used.clone();
        Plan made = new Plan(size);
        for (int pivot = 0; pivot < size; pivot++) {
            for (int row = pivot + 1; row < size; row++) {
                int factor = row * width + pivot;
                if (!filled[factor]) {
                    continue;
                }
                made.addLower(factor, row, pivot);
                for (int column = pivot + 1; column < size; column++) {
                    if (filled[pivot * width + column]) {
                        filled[row * width + column] = true;
                        made.addUpdate(row * width + column, factor, pivot * width + column);
                    }
                }
            }
            made.endOfPivot(pivot);
        }
        for (int row = size - 1; row >= 0; row--) {
            for (int column = row + 1; column < size; column++) {
                if (filled[row * width + column]) {
                    made.addUpper(row * width + column, column);
                }
            }
            made.endOfRow(row);
        }
        return made;
    }

    /** The list of multiplications: places in the matrix, in the order in which they are used. */
    private static final class Plan {
        private int[] lower = new int[0];
        private int[] lowerRow = new int[0];
        private int[] lowerPivot = new int[0];
        private int[] target = new int[0];
        private int[] factor = new int[0];
        private int[] source = new int[0];
        private int[] upper = new int[0];
        private int[] upperColumn = new int[0];
        private final int[] lowerEnd;
        private final int[] updateEnd;
        private final int[] upperEnd;

        Plan(int size) {
            lowerEnd = new int[size];
            updateEnd = new int[size];
            upperEnd = new int[size];
        }

        void addLower(int at, int row, int pivot) {
            lower = with(lower, at);
            lowerRow = with(lowerRow, row);
            lowerPivot = with(lowerPivot, pivot);
        }

        void addUpdate(int at, int factorAt, int sourceAt) {
            target = with(target, at);
            factor = with(factor, factorAt);
            source = with(source, sourceAt);
        }

        void addUpper(int at, int column) {
            upper = with(upper, at);
            upperColumn = with(upperColumn, column);
        }

        void endOfPivot(int pivot) {
            lowerEnd[pivot] = lower.length;
            updateEnd[pivot] = target.length;
        }

        void endOfRow(int row) {
            upperEnd[row] = upper.length;
        }

        private static int[] with(int[] list, int last) {
            int[] longer = Arrays.copyOf(list, list.length + 1);
            longer[list.length] = last;
            return longer;
        }
    }
}
