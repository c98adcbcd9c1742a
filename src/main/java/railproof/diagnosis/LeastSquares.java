package railproof.diagnosis;

import java.util.Comparator;
import java.util.List;
import java.util.function.UnaryOperator;

/**
 * Least squares with a prior: Gauss and Newton's method, damped (Levenberg, Marquardt), from several starts. Unknowns are
 * scaled so that their priors have their middle at 0. Confined to one thread.
 */
final class LeastSquares {
    private static final int ROUNDS = 12;
    private static final int STARTS = 2;
    private static final double PROBE = 0.05;
    private static final double CLOSE = 1e-2;
    private static final double FIRST_DAMPING = 1e-2;
    private static final double MOST_DAMPING = 1e4;
    /** A value is moved by so many standard uncertainties to see whether the readings mind. */
    private static final double SHIFT = 2;

    private static final double MOST_WIDENING = 8;

    private final UnaryOperator<double[]> model;
    private final List<Target> targets;
    private final double[] priorVariance;

    LeastSquares(UnaryOperator<double[]> model, List<Target> targets, double[] priorVariance) {
        this.model = model;
        this.targets = List.copyOf(targets);
        this.priorVariance = priorVariance;
    }

    /**
     * What one output of the model should be.
     *
     * @param place of the output
     * @param wantedDimensionless its value
     * @param weightDimensionless one over the variance
     */
    record Target(int place, double wantedDimensionless, double weightDimensionless) {}

    /**
     * A point where the sum of squares is least.
     *
     * @param at the unknowns
     * @param outputs of the model there
     * @param misfitDimensionless sum of squares, prior included
     * @param dataMisfitDimensionless the same without the prior
     * @param slopes of every output, by unknown
     * @param normal factor of the normal equations
     */
    @SuppressWarnings("ArrayRecordComponent") // a bundle that nobody compares
    record Minimum(
            double[] at,
            double[] outputs,
            double misfitDimensionless,
            double dataMisfitDimensionless,
            double[][] slopes,
            Cholesky normal,
            double[] priorVariance) {
        /** Standard uncertainty of an unknown, by the slopes here. */
        double u(int unknown) {
            double[] unit = new double[at.length];
            unit[unknown] = 1;
            return Math.sqrt(normal.solve(unit)[unknown]);
        }

        /** Standard uncertainty of an output, with the readings or by the prior alone. */
        double u(int output, boolean priorOnly) {
            double[] slope = new double[at.length];
            for (int j = 0; j < slope.length; j++) {
                slope[j] = slopes[j][output];
            }
            double[] spread = priorOnly ? slope.clone() : normal.solve(slope);
            double variance = 0;
            for (int j = 0; j < slope.length; j++) {
                variance += slope[j] * spread[j] * (priorOnly ? priorVariance[j] : 1);
            }
            return Math.sqrt(variance);
        }
    }

    /** The lowest minimum reached from the best of some starts. */
    Minimum lowest(List<double[]> starts) {
        List<double[]> tried = starts.stream()
                .sorted(Comparator.comparingDouble(at -> misfit(at, model.apply(at))))
                .limit(STARTS)
                .toList();
        double[] best = tried.get(0);
        double least = Double.POSITIVE_INFINITY;
        for (double[] start : tried) {
            double[] reached = descended(start);
            double found = misfit(reached, model.apply(reached));
            if (found < least) {
                least = found;
                best = reached;
            }
        }
        double[] outputs = model.apply(best);
        double[][] slopes = slopes(best, outputs);
        double prior = prior(best);
        return new Minimum(
                best, outputs, least, least - prior, slopes, Cholesky.of(normal(slopes, 0)), priorVariance.clone());
    }

    /**
     * Standard uncertainty of an unknown, checked: it is moved away with all others following as the slopes have it, and
     * must make the sum of squares grow as that promises. Where it grows more slowly the uncertainty is widened until it
     * does; infinite if that takes eight times as much.
     */
    double checkedU(Minimum minimum, int unknown) {
        double u = minimum.u(unknown);
        double[] unit = new double[minimum.at().length];
        unit[unknown] = 1;
        double[] along = minimum.normal().solve(unit);
        double widest = 1;
        for (int sign = -1; sign <= 1; sign += 2) {
            double widening = 1;
            while (widening <= MOST_WIDENING && rise(minimum, along, sign * SHIFT * widening / u) < SHIFT * SHIFT / 2) {
                widening *= 2;
            }
            widest = Math.max(widest, widening);
        }
        return widest > MOST_WIDENING ? Double.POSITIVE_INFINITY : widest * u;
    }

    private double rise(Minimum minimum, double[] along, double share) {
        double[] moved = moved(minimum.at(), along, share);
        return misfit(moved, model.apply(moved)) - minimum.misfitDimensionless();
    }

    private double[] descended(double[] start) {
        double[] at = start;
        double[] outputs = model.apply(at);
        double best = misfit(at, outputs);
        double damping = FIRST_DAMPING;
        for (int round = 0; round < ROUNDS; round++) {
            double[][] slopes = slopes(at, outputs);
            double[] downhill = downhill(at, outputs, slopes);
            double before = best;
            boolean lower = false;
            while (!lower && damping < MOST_DAMPING) {
                double[] tried = moved(at, Cholesky.of(normal(slopes, damping)).solve(downhill), 1);
                double[] then = model.apply(tried);
                double found = misfit(tried, then);
                lower = found < best;
                damping = lower ? damping / 10 : damping * 10;
                if (lower) {
                    best = found;
                    at = tried;
                    outputs = then;
                }
            }
            if (!lower || before - best < CLOSE) {
                break;
            }
        }
        return at;
    }

    private static double[] moved(double[] from, double[] step, double share) {
        double[] to = from.clone();
        for (int j = 0; j < to.length; j++) {
            to[j] += share * step[j];
        }
        return to;
    }

    private double misfit(double[] at, double[] outputs) {
        double sum = prior(at);
        for (Target target : targets) {
            double off = target.wantedDimensionless() - outputs[target.place()];
            sum += target.weightDimensionless() * off * off;
        }
        return Double.isNaN(sum) ? Double.POSITIVE_INFINITY : sum;
    }

    private double prior(double[] at) {
        double sum = 0;
        for (int j = 0; j < at.length; j++) {
            sum += at[j] * at[j] / priorVariance[j];
        }
        return sum;
    }

    private double[][] slopes(double[] at, double[] here) {
        double[][] slopes = new double[at.length][];
        for (int j = 0; j < at.length; j++) {
            double[] up = at.clone();
            up[j] += PROBE;
            double[] high = model.apply(up);
            slopes[j] = new double[high.length];
            for (int f = 0; f < high.length; f++) {
                slopes[j][f] = (high[f] - here[f]) / PROBE;
            }
        }
        return slopes;
    }

    private double[][] normal(double[][] slopes, double damping) {
        int n = slopes.length;
        double[][] normal = new double[n][n];
        for (Target target : targets) {
            int f = target.place();
            for (int j = 0; j < n; j++) {
                for (int k = 0; k < n; k++) {
                    normal[j][k] += target.weightDimensionless() * slopes[j][f] * slopes[k][f];
                }
            }
        }
        for (int j = 0; j < n; j++) {
            normal[j][j] = (normal[j][j] + 1 / priorVariance[j]) * (1 + damping);
        }
        return normal;
    }

    private double[] downhill(double[] at, double[] outputs, double[][] slopes) {
        double[] right = new double[at.length];
        for (Target target : targets) {
            double off = target.wantedDimensionless() - outputs[target.place()];
            for (int j = 0; j < right.length; j++) {
                right[j] += target.weightDimensionless() * off * slopes[j][target.place()];
            }
        }
        for (int j = 0; j < right.length; j++) {
            right[j] -= at[j] / priorVariance[j];
        }
        return right;
    }
}
