package railproof.signal;

import java.util.Arrays;
import java.util.Optional;

/**
 * A reading that creeps to its end value while something warms up: v(t) = end + step · exp(−t / τ), fitted by least
 * squares. The exponential's two linear coefficients follow from τ, so that only τ is searched for. Its uncertainty is
 * that of the linearized fit (GUM H.3's way), with the residuals' correlation counted as in {@link Drift}.
 *
 * <p>Thread: immutable; any.
 *
 * @param endV where it goes, V
 * @param stepV how far away it began, V, signed: at the first reading
 * @param tauS thermal time constant, s
 * @param tauU its standard uncertainty, s
 * @param residualSdV standard deviation of what is left, V
 */
public record WarmUp(double endV, double stepV, double tauS, double tauU, double residualSdV) {
    private static final int GRID = 60;
    private static final int NARROWINGS = 60;
    private static final double GOLDEN_RATIO = 0.5 * (Math.sqrt(5) - 1);

    /**
     * Fits.
     *
     * @param timesS when, s, ascending; at least 8
     * @param valuesV what, V
     * @return empty if the record does not show one time constant: nothing moves beyond its noise (95.45 %), or the time
     *     constant is shorter than two readings or longer than the record
     */
    public static Optional<WarmUp> of(double[] timesS, double[] valuesV) {
        Samples.require(timesS, 8);
        Samples.require(valuesV, 8);
        if (timesS.length != valuesV.length) {
            throw new IllegalArgumentException(timesS.length + " times, " + valuesV.length + " values");
        }
        double startS = timesS[0];
        double[] t = Arrays.stream(timesS).map(time -> time - startS).toArray();
        double lengthS = t[t.length - 1];
        Samples.requirePositive("length of the record", lengthS);
        double shortestS = 2 * lengthS / t.length;
        double tauS = search(t, valuesV, 0.5 * shortestS, 3 * lengthS);
        double[] line = line(t, valuesV, tauS);
        double[] left = new double[t.length];
        LeastSquares around = new LeastSquares(3);
        for (int i = 0; i < t.length; i++) {
            double e = Math.exp(-t[i] / tauS);
            left[i] = valuesV[i] - line[0] - line[1] * e;
            around.add(new double[] {1, e, t[i] / tauS * e}, left[i]);
        }
        double squares = Samples.squares(left, 0, 0, left.length);
        double sd = Math.sqrt(squares / (left.length - 3));
        double worth = Statistics.of(left).effectiveCount() / left.length;
        double[][] inverse = around.solve().inverse();
        double scale = sd / Math.sqrt(worth);
        double k = Coverage.P95_45.factor(Math.max(1, left.length * worth - 3));
        boolean moves = Math.abs(line[1]) > k * scale * Math.sqrt(inverse[1][1]);
        if (!moves || line[1] == 0 || tauS < shortestS || tauS > lengthS) {
            return Optional.empty();
        }
        double tauU = scale * Math.sqrt(inverse[2][2]) * tauS / Math.abs(line[1]);
        return Optional.of(new WarmUp(line[0], line[1], tauS, tauU, sd));
    }

    /** When so much of the step is left, s after the first reading: τ ln(1 / ratio). */
    public double leftAtS(double leftRatio) {
        if (!(leftRatio > 0 && leftRatio <= 1)) {
            throw new IllegalArgumentException("what is left must be above 0 and at most 1, got " + leftRatio);
        }
        return -tauS * Math.log(leftRatio);
    }

    private static double search(double[] t, double[] v, double fromS, double toS) {
        double ratio = Math.pow(toS / fromS, 1.0 / GRID);
        double best = fromS;
        double least = Double.POSITIVE_INFINITY;
        for (int i = 0; i <= GRID; i++) {
            double tau = fromS * Math.pow(ratio, i);
            double squares = squares(t, v, tau);
            best = squares < least ? tau : best;
            least = Math.min(least, squares);
        }
        double low = Math.log(best / ratio);
        double high = Math.log(best * ratio);
        for (int i = 0; i < NARROWINGS; i++) {
            double a = high - GOLDEN_RATIO * (high - low);
            double b = low + GOLDEN_RATIO * (high - low);
            if (squares(t, v, Math.exp(a)) < squares(t, v, Math.exp(b))) {
                high = b;
            } else {
                low = a;
            }
        }
        return Math.exp(0.5 * (low + high));
    }

    private static double squares(double[] t, double[] v, double tau) {
        double[] line = line(t, v, tau);
        double sum = 0;
        for (int i = 0; i < t.length; i++) {
            double d = v[i] - line[0] - line[1] * Math.exp(-t[i] / tau);
            sum += d * d;
        }
        return sum;
    }

    /** End value and step for a time constant: a straight line over exp(−t / τ). */
    private static double[] line(double[] t, double[] v, double tau) {
        double[] e = new double[t.length];
        for (int i = 0; i < t.length; i++) {
            e[i] = Math.exp(-t[i] / tau);
        }
        double meanE = Statistics.mean(e);
        double meanV = Statistics.mean(v);
        double products = 0;
        double squares = 0;
        for (int i = 0; i < t.length; i++) {
            products += (e[i] - meanE) * (v[i] - meanV);
            squares += (e[i] - meanE) * (e[i] - meanE);
        }
        double step = products / squares;
        return new double[] {meanV - step * meanE, step};
    }
}
