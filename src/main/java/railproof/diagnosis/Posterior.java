package railproof.diagnosis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import railproof.base.Measured;

/**
 * How probable each fault is, given readings. Likelihood by multivariate Student's t over the bands of the dictionary.
 *
 * <p>Thread: immutable; any.
 */
@SuppressWarnings("EnumOrdinal") // faults, parts and features index dense arrays
final class Posterior {
    /** Degrees of freedom of the t: few, so that a reading the model is wrong about does not rule out the truth. */
    private static final double DOF = 6;

    private final Dictionary dictionary;
    private final Priors priors;
    private final double[] bandLog;
    private final double[] probability = new double[Dictionary.FAULTS + 1];

    private Posterior(Dictionary dictionary, Priors priors, double[] bandLog) {
        this.dictionary = dictionary;
        this.priors = priors;
        this.bandLog = bandLog;
        spread(dictionary, bandLog, probability);
    }

    static Posterior of(Dictionary dictionary, Priors priors, Readings readings) {
        int count = readings.values().size();
        int[] places = new int[count];
        double[] y = new double[count];
        double[] variance = new double[count];
        int k = 0;
        for (Map.Entry<Feature, Measured> each : readings.values().entrySet()) {
            Feature feature = each.getKey();
            Measured value = each.getValue();
            places[k] = feature.index();
            y[k] = dictionary.space.compared(feature, value.value());
            double u = dictionary.space.comparedU(feature, value.value(), value.standardU());
            variance[k++] = u * u;
        }
        double[] logs = new double[dictionary.bands.size()];
        for (int b = 0; b < logs.length; b++) {
            SeverityBand band = dictionary.bands.get(b);
            Cholesky factor = Cholesky.of(part(band, places, variance));
            double[] off = new double[count];
            for (int i = 0; i < count; i++) {
                off[i] = y[i] - band.mean[places[i]];
            }
            factor.forward(off);
            logs[b] = logBandPrior(dictionary, priors, band) + logDensity(off, factor.logDeterminant());
        }
        return new Posterior(dictionary, priors, logs);
    }

    /** Rows and columns of a band's covariance, with the measurement's own variances. */
    static double[][] part(SeverityBand band, int[] places, double[] variance) {
        double[][] part = new double[places.length][places.length];
        for (int i = 0; i < places.length; i++) {
            for (int j = 0; j < places.length; j++) {
                part[i][j] = band.covariance[places[i]][places[j]];
            }
            part[i][i] += variance[i];
        }
        return part;
    }

    /** Logarithm of the t's density, without what only depends on the number of readings. */
    static double logDensity(double[] whitened, double logDeterminant) {
        double squares = 0;
        for (double each : whitened) {
            squares += each * each;
        }
        return -0.5 * logDeterminant - 0.5 * (DOF + whitened.length) * Math.log1p(squares / DOF);
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
