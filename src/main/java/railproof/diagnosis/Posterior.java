package railproof.diagnosis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * How probable each fault is, given readings. Likelihood by multivariate Student's t over the bands of the dictionary.
 *
 * <p>Thread: immutable; any.
 */
@SuppressWarnings("EnumOrdinal") // faults, parts and features index dense arrays
final class Posterior {
    /** Degrees of freedom of the t: few, so that a reading the model is wrong about does not rule out the truth. */
    private static final double DOF = 6;

    /** Mean square of many whitened readings that one in a hundred exceeds: quantile of F for so many degrees of freedom. */
    private static final double RARE_SQUARE = 6.88;

    private final Dictionary dictionary;
    private final Priors priors;
    private final double[] bandLog;
    private final double leastSquaresDimensionless;
    private final double[] probability = new double[Dictionary.FAULTS + 1];

    private Posterior(Dictionary dictionary, Priors priors, double[] bandLog, double leastSquaresDimensionless) {
        this.dictionary = dictionary;
        this.priors = priors;
        this.bandLog = bandLog;
        this.leastSquaresDimensionless = leastSquaresDimensionless;
        spread(dictionary, bandLog, probability);
    }

    static Posterior of(Dictionary dictionary, Priors priors, Readings readings) {
        Compared compared = Compared.of(dictionary.space, readings);
        int count = compared.places().length;
        double least = Double.POSITIVE_INFINITY;
        double[] logs = new double[dictionary.bands.size()];
        for (int b = 0; b < logs.length; b++) {
            SeverityBand band = dictionary.bands.get(b);
            Cholesky factor = compared.factor(band);
            double[] off = compared.off(band);
            factor.forward(off);
            least = Math.min(least, squares(off));
            logs[b] = logBandPrior(dictionary, priors, band) + logDensity(off, factor.logDeterminant());
        }
        return new Posterior(dictionary, priors, logs, count == 0 ? 0 : least / count / RARE_SQUARE);
    }

    /** Logarithm of the t's density, without what only depends on the number of readings. */
    static double logDensity(double[] whitened, double logDeterminant) {
        return -0.5 * logDeterminant - 0.5 * (DOF + whitened.length) * Math.log1p(squares(whitened) / DOF);
    }

    private static double squares(double[] whitened) {
        double squares = 0;
        for (double each : whitened) {
            squares += each * each;
        }
        return squares;
    }

    static double logBandPrior(Dictionary dictionary, Priors priors, SeverityBand band) {
        long bands =
                dictionary.bands.stream().filter(b -> b.fault == band.fault).count();
        return Math.log(Math.max(priors.of(band.fault), 1e-12) / bands);
    }

    /** From logarithms per band to probabilities per fault, sound first. */
    static void spread(Dictionary dictionary, double[] bandLog, double[] into) {
        double most = Arrays.stream(bandLog).max().orElse(0);
        double sum = 0;
        Arrays.fill(into, 0);
        for (int b = 0; b < bandLog.length; b++) {
            double weight = Math.exp(bandLog[b] - most);
            into[dictionary.bands.get(b).fault + 1] += weight;
            sum += weight;
        }
        for (int i = 0; i < into.length; i++) {
            into[i] /= sum;
        }
    }

    Dictionary dictionary() {
        return dictionary;
    }

    Priors priors() {
        return priors;
    }

    /** Logarithm of prior times likelihood, per band. */
    double[] bandLog() {
        return bandLog.clone();
    }

    /** Probability that the unit is sound. */
    double sound() {
        return probability[0];
    }

    /** How far the readings are from the nearest band: mean square of what is left, over that of one unit in a hundred. */
    double strangeness() {
        return leastSquaresDimensionless;
    }

    /** How many times as probable the readings are with some faults, as they were expected, as in a sound unit. */
    double timesSound(List<PartFault> faults) {
        double before = 0;
        double now = 0;
        for (PartFault fault : faults) {
            before += priors.of(fault.ordinal());
            now += of(fault);
        }
        return now / Math.max(before, 1e-12) / (Math.max(sound(), 1e-300) / priors.of(Dictionary.SOUND));
    }

    double of(PartFault fault) {
        return probability[fault.ordinal() + 1];
    }

    /** All faults, the most probable first. */
    List<PartFault> ranked() {
        List<PartFault> faults = new ArrayList<>(List.of(PartFault.values()));
        faults.sort((a, b) -> Double.compare(of(b), of(a)));
        return faults;
    }
}
