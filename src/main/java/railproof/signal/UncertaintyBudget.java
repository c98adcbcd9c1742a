package railproof.signal;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * An uncertainty budget in the form of GUM (JCGM 100:2008) 5.1 and annex G: independent contributions, their combined
 * standard uncertainty, its effective degrees of freedom, coverage factor and expanded uncertainty. Correlated inputs
 * belong into {@link JointMeans} first.
 *
 * <p>Thread: immutable; any.
 *
 * @param entries the contributions, at least one
 */
public record UncertaintyBudget(List<Entry> entries) {
    /** A rectangle rules where all else together is at most this share of it (EA-4/02 M, S9.14). */
    private static final double DOMINANCE_RATIO = 0.3;

    public UncertaintyBudget {
        entries = List.copyOf(entries);
        if (entries.isEmpty()) {
            throw new IllegalArgumentException("a budget needs at least one entry");
        }
    }

    /** A budget of these entries. */
    public static UncertaintyBudget of(Entry... entries) {
        return new UncertaintyBudget(List.of(entries));
    }

    /** How a contribution is distributed. */
    public enum Distribution {
        /** From statistics or a certificate; divisor 1. */
        NORMAL(1),
        /** Anywhere within ± half-width; divisor √3. */
        RECTANGULAR(Math.sqrt(3)),
        /** Sum of two equal rectangles; divisor √6. */
        TRIANGULAR(Math.sqrt(6)),
        /** Sine-shaped variation, given by its amplitude; divisor √2. */
        U_SHAPED(Math.sqrt(2));

        private final double divisorDimensionless;

        Distribution(double divisorDimensionless) {
            this.divisorDimensionless = divisorDimensionless;
        }

        /** What the half-width is divided by to give a standard uncertainty. */
        public double divisor() {
            return divisorDimensionless;
        }
    }

    /**
     * One contribution.
     *
     * @param name what it comes from
     * @param halfWidthDimensionless standard uncertainty for NORMAL, half-width or amplitude for the others, in the
     *     input's unit; finite, zero or more
     * @param distribution how it is distributed
     * @param sensitivityDimensionless change of the result per change of the input, any sign
     * @param dof degrees of freedom of the input's standard uncertainty; at least 1, may be infinite
     */
    public record Entry(
            String name,
            double halfWidthDimensionless,
            Distribution distribution,
            double sensitivityDimensionless,
            double dof) {
        public Entry {
            if (!(halfWidthDimensionless >= 0) || Double.isInfinite(halfWidthDimensionless)) {
                throw new IllegalArgumentException(
                        name + ": must be finite and zero or more, got " + halfWidthDimensionless);
            }
            if (!Double.isFinite(sensitivityDimensionless) || !(dof >= 1)) {
                throw new IllegalArgumentException(name + ": sensitivity must be finite and degrees of freedom at"
                        + " least 1, got " + sensitivityDimensionless + " and " + dof);
            }
        }

        /** A standard uncertainty with its degrees of freedom, sensitivity 1. */
        public static Entry normal(String name, double standardU, double dof) {
            return new Entry(name, standardU, Distribution.NORMAL, 1, dof);
        }

        /** Anywhere within ± {@code halfWidth}, sensitivity 1. */
        public static Entry rectangular(String name, double halfWidth) {
            return new Entry(name, halfWidth, Distribution.RECTANGULAR, 1, Double.POSITIVE_INFINITY);
        }

        /** The resolution of a display or converter whose last digit or count is {@code step}: u = step / √12. */
        public static Entry resolution(String name, double step) {
            return rectangular(name, 0.5 * step);
        }

        /** The same with another sensitivity coefficient. */
        public Entry sensitivity(double sensitivity) {
            return new Entry(name, halfWidthDimensionless, distribution, sensitivity, dof);
        }

        /** What it contributes to the standard uncertainty of the result: |c| u. */
        public double contribution() {
            return Math.abs(sensitivityDimensionless) * halfWidthDimensionless / distribution.divisor();
        }
    }

    /** Combined standard uncertainty: root of the sum of squares. */
    public double combinedU() {
        return rootSumSquare(entries);
    }

    /** Effective degrees of freedom (Welch and Satterthwaite, GUM G.2b), not yet cut to a whole number. */
    public double effectiveDof() {
        double parts = 0;
        for (Entry entry : entries) {
            parts += Math.pow(entry.contribution(), 4) / entry.dof();
        }
        return parts > 0 ? Math.max(1, Math.pow(combinedU(), 4) / parts) : Double.POSITIVE_INFINITY;
    }

    /**
     * The coverage factor: for one or two rectangles that outweigh all else the rectangle's or the trapezoid's
     * (EA-4/02 M, S9 and S10: there k = 2 claims too much), else Student's t.
     */
    public double coverageFactor(Coverage level) {
        List<Entry> sorted = new ArrayList<>(entries);
        sorted.sort(Comparator.comparingDouble(Entry::contribution).reversed());
        if (rules(sorted, 1)) {
            return level.rectangleFactor();
        }
        if (sorted.size() >= 2 && rules(sorted, 2)) {
            return level.trapezoidFactor(
                    sorted.get(0).contribution(), sorted.get(1).contribution());
        }
        return level.factor(effectiveDof());
    }

    /** Expanded uncertainty U = k u. */
    public double expandedU(Coverage level) {
        return coverageFactor(level) * combinedU();
    }

    private static boolean rules(List<Entry> sorted, int count) {
        List<Entry> first = sorted.subList(0, count);
        double rest = rootSumSquare(sorted.subList(count, sorted.size()));
        return first.stream().allMatch(entry -> entry.distribution() == Distribution.RECTANGULAR)
                && rest <= DOMINANCE_RATIO * rootSumSquare(first)
                && rootSumSquare(first) > 0;
    }

    private static double rootSumSquare(List<Entry> entries) {
        return Math.sqrt(entries.stream()
                .mapToDouble(entry -> entry.contribution() * entry.contribution())
                .sum());
    }
}
