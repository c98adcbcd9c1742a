package railproof.signal;

/**
 * A sine fitted to a record: y = A cos(2π f t) + B sin(2π f t) + C, by the three- and four-parameter methods of IEEE Std
 * 1057 (frequency known, and frequency fitted too).
 *
 * <p>Thread: immutable; any.
 *
 * @param cosineDimensionless A, in the samples' unit
 * @param sineDimensionless B
 * @param offsetDimensionless C
 * @param frequencyHz f, Hz
 * @param residualRmsDimensionless root mean square of what is left
 */
public record SineFit(
        double cosineDimensionless,
        double sineDimensionless,
        double offsetDimensionless,
        double frequencyHz,
        double residualRmsDimensionless) {
    private static final int MOST_ROUNDS = 40;

    /** Three parameters: the frequency is known. At least 4 samples. */
    public static SineFit atFrequency(double[] samples, double rateHz, double frequencyHz) {
        Samples.require(samples, 4);
        Samples.requirePositive("sample rate", rateHz);
        Samples.requirePositive("frequency", frequencyHz);
        double[] abc = solve(samples, rateHz, frequencyHz, 0, 0, 3);
        double squares = 0;
        for (int i = 0; i < samples.length; i++) {
            double angle = 2 * Math.PI * frequencyHz * i / rateHz;
            double left = samples[i] - abc[0] * Math.cos(angle) - abc[1] * Math.sin(angle) - abc[2];
            squares += left * left;
        }
        return new SineFit(abc[0], abc[1], abc[2], frequencyHz, Math.sqrt(squares / samples.length));
    }

    /**
     * Four parameters: the frequency is refined from a start value within half of 1 / (record length).
     *
     * @throws IllegalArgumentException if it does not converge
     */
    public static SineFit from(double[] samples, double rateHz, double startHz) {
        SineFit fit = atFrequency(samples, rateHz, startHz);
        double lengthS = samples.length / rateHz;
        double f = startHz;
        for (int round = 0; round < MOST_ROUNDS; round++) {
            double step = solve(samples, rateHz, f, fit.cosineDimensionless, fit.sineDimensionless, 4)[3] / lengthS;
            f += step;
            if (!(f > 0) || Math.abs(f - startHz) > 2 / lengthS) {
                break;
            }
            fit = atFrequency(samples, rateHz, f);
            if (Math.abs(step) < 1e-13 * f + 1e-300) {
                return fit;
            }
        }
        if (Math.abs(f - startHz) <= 2 / lengthS) {
            return fit;
        }
        throw new IllegalArgumentException("no sine near " + startHz + " Hz to be found in the record");
    }

    /** Amplitude, √(A² + B²), in the samples' unit. */
    public double amplitude() {
        return Math.hypot(cosineDimensionless, sineDimensionless);
    }

    /** Phase φ of amplitude × cos(2π f t + φ), radians, −π to π. */
    public double phaseDimensionless() {
        return Math.atan2(-sineDimensionless, cosineDimensionless);
    }

    private static double[] solve(double[] y, double rateHz, double f, double a, double b, int unknowns) {
        LeastSquares squares = new LeastSquares(unknowns);
        double[] row = new double[4];
        for (int i = 0; i < y.length; i++) {
            double turn = 2 * Math.PI * i / rateHz;
            row[0] = Math.cos(turn * f);
            row[1] = Math.sin(turn * f);
            row[2] = 1;
            // per cycle over the whole record, which keeps the column near one
            row[3] = turn * rateHz / y.length * (b * row[0] - a * row[1]);
            squares.add(row, y[i]);
        }
        return squares.solve().coefficients();
    }
}
