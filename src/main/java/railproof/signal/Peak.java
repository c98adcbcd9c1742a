package railproof.signal;

import java.util.Arrays;

/**
 * The highest a record truly went, from its samples. Two things stand between the highest sample and that: noise, which
 * lifts the highest of many alike samples, and the sampling, since the top lies between samples as a rule.
 *
 * <p>A top that takes many samples to fall clear of the noise is fitted by a parabola and read there. Of a sharper one
 * noise is found by adding it once more in thought (the bootstrap's way) and taken off, and a parabola through three
 * samples tells the rest. A jump decays from where no sample was: it lies anywhere up to one more step of the decay, so
 * half of that is added and half of it is a rectangle (GUM 4.3.7).
 *
 * @param valueV the highest value, V
 * @param standardUV its standard uncertainty from noise and sampling, V
 */
record Peak(double valueV, double standardUV) {
    /** Relative standard uncertainty of the noise, as the samples tell it. */
    private static final double NOISE_KNOWN_RATIO = 0.2;
    /** Farther below the top a sample has no part in the highest, in standard deviations of the noise. */
    private static final double REACH = 14;
    /** So far below the highest sample the top is clear of the noise, in standard deviations. */
    private static final double CLEAR = 6;
    /** A rise to the top so much larger than the one before it is a jump. */
    private static final double JUMP_RATIO = 2;

    private static final int FARTHEST = 40;
    private static final int LEAST_FITTED = 6;

    /**
     * Of a stretch.
     *
     * @param v samples, V
     * @param from first sample
     * @param to one after the last, above {@code from}
     * @param noiseV standard deviation of the noise of a sample, V, zero or more
     */
    static Peak of(double[] v, int from, int to, double noiseV) {
        int top = from;
        for (int i = from; i < to; i++) {
            top = v[i] > v[top] ? i : top;
        }
        double floorV = v[top] - CLEAR * noiseV;
        int low = top;
        int high = top;
        while (low > from && top - low < FARTHEST && v[low - 1] >= floorV) {
            low--;
        }
        while (high + 1 < to && high - top < FARTHEST && v[high + 1] >= floorV) {
            high++;
        }
        // a stretch that ends at a jump: then the top may lie up to a sample beyond
        boolean[] ends = {
            low > from && low + 1 < to && v[low] - v[low - 1] > CLEAR * noiseV + Math.abs(v[low] - v[low + 1]),
            high + 1 < to && high > from && v[high] - v[high + 1] > CLEAR * noiseV + Math.abs(v[high] - v[high - 1])
        };
        boolean flat = high - low + 1 >= LEAST_FITTED;
        return noiseV > 0 && flat ? fitted(v, low, high, ends, noiseV) : sharp(v, from, to, top, noiseV);
    }

    /** The highest of a parabola through the samples of a flat top. */
    private static Peak fitted(double[] v, int low, int high, boolean[] jumps, double noiseV) {
        double middle = 0.5 * (low + high);
        double half = 0.5 * (high - low);
        LeastSquares squares = new LeastSquares(3);
        for (int i = low; i <= high; i++) {
            double x = (i - middle) / half;
            squares.add(new double[] {1, x, x * x - 1.0 / 3}, v[i]);
        }
        LeastSquares.Solution found = squares.solve();
        double[] c = found.coefficients();
        double first = jumps[0] ? -1 - 0.5 / half : -1;
        double last = jumps[1] ? 1 + 0.5 / half : 1;
        double best = at(c, first) >= at(c, last) ? first : last;
        double vertex = c[2] < 0 ? -c[1] / (2 * c[2]) : 2;
        best = Math.abs(vertex) < 1 && at(c, vertex) > at(c, best) ? vertex : best;
        double[] row = {1, best, best * best - 1.0 / 3};
        double leverage = 0;
        for (int i = 0; i < 3; i++) {
            for (int k = 0; k < 3; k++) {
                leverage += row[i] * found.inverse()[i][k] * row[k];
            }
        }
        double stepV = Math.abs(best) > 1 ? Math.abs(at(c, best) - at(c, best - Math.signum(best) / half)) : 0;
        return new Peak(at(c, best), Math.hypot(noiseV * Math.sqrt(leverage), 0.5 * stepV / Math.sqrt(3)));
    }

    private static double at(double[] c, double x) {
        return c[0] + c[1] * x + c[2] * (x * x - 1.0 / 3);
    }

    private static Peak sharp(double[] v, int from, int to, int top, double noiseV) {
        double liftV = 0;
        double noiseU = 0;
        if (noiseV > 0) {
            double floorV = v[top] - REACH * noiseV;
            double[] near =
                    Arrays.stream(v, from, to).filter(x -> x >= floorV).sorted().toArray();
            liftV = RippleNoise.lift(near, noiseV);
            // the highest of n normal samples: mean 0, 0.56, 1.54, 2.51, sd 1, 0.83, 0.59, 0.43 for n = 1, 2, 10, 100
            noiseU = Math.hypot(noiseV * Math.max(0.4, 1 - 0.3 * liftV / noiseV), NOISE_KNOWN_RATIO * liftV);
        }
        if (top < from + 2 || top + 2 >= to) {
            return new Peak(v[top] - liftV, noiseU);
        }
        double up = v[top] - v[top - 1];
        double down = v[top] - v[top + 1];
        if (jump(up, v[top - 1] - v[top - 2], noiseV) || jump(down, v[top + 1] - v[top + 2], noiseV)) {
            // one step back along the decay is as much larger than the last step as that is than the next
            double next = down < up ? v[top + 1] - v[top + 2] : v[top - 1] - v[top - 2];
            double growth = next > 4 * noiseV ? Math.min(JUMP_RATIO, Math.max(1, Math.min(up, down) / next)) : 1;
            double halfStepV = 0.5 * growth * Math.min(up, down);
            return new Peak(v[top] - liftV + halfStepV, Math.hypot(noiseU, halfStepV / Math.sqrt(3)));
        }
        double betweenV = up + down > 0 ? (up - down) * (up - down) / (8 * (up + down)) : 0;
        // what a parabola leaves out: the third difference over 6 times at most 0.385 between two samples
        double third = Math.max(
                Math.abs(v[top + 2] - 3 * v[top + 1] + 3 * v[top] - v[top - 1]),
                Math.abs(v[top + 1] - 3 * v[top] + 3 * v[top - 1] - v[top - 2]));
        return new Peak(v[top] - liftV + betweenV, Math.hypot(noiseU, 0.385 / Math.sqrt(3) * third / 6));
    }

    private static boolean jump(double last, double before, double noiseV) {
        return last > JUMP_RATIO * Math.abs(before) + 4 * noiseV;
    }
}
