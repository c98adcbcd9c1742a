package railproof.diagnosis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import railproof.profile.LineRating;
import railproof.profile.PartList;
import railproof.profile.Rail;

/**
 * Makes the fault dictionary of a rail by Monte Carlo. Every unit's part values are drawn within their tolerances
 * (rectangular), its severity within its band; every band has the same units with another fault, and the same seed
 * gives the same dictionary. Uses all processors.
 */
@SuppressWarnings("EnumOrdinal") // faults, parts and features index dense arrays
public final class DictionaryMaker {
    private static final long SEED = 20_261_125;
    private static final int BANDS = 5;
    private static final int UNITS_PER_BAND = 120;

    private static final int REGRESSORS = Circuit.DRAWS + 1;
    private static final double RIDGE = 1e-3;

    private final Rail rail;
    private final LineRating line;
    private final PartList parts;
    private final Space space;

    private DictionaryMaker(Rail rail, LineRating line, PartList parts) {
        this.rail = rail;
        this.line = line;
        this.parts = parts;
        this.space = new Space(Math.abs(rail.nominalV()), rail.ratedCurrentA());
    }

    /** The dictionary of a rail; with typical part values if the profile states none. Takes some seconds. */
    public static Dictionary make(Rail rail, LineRating line) {
        PartList parts = rail.parts().orElseGet(() -> TypicalParts.of(rail));
        return new DictionaryMaker(rail, line, parts).make();
    }

    private record Made(SeverityBand band, List<double[]> readings) {}

    private Dictionary make() {
        List<int[]> jobs = new ArrayList<>();
        for (int fault = Dictionary.SOUND; fault < Dictionary.FAULTS; fault++) {
            if (fault >= 0 && !PartFault.values()[fault].possible(parts, rail.limitShape())) {
                continue;
            }
            int bands = fault < 0 || PartFault.values()[fault].oneSeverity() ? 1 : BANDS;
            for (int band = 0; band < bands; band++) {
                jobs.add(new int[] {fault, band, bands});
            }
        }
        double[] sound = band(Dictionary.SOUND, 0, 1, Optional.empty()).band().mean;
        List<Made> made = IntStream.range(0, jobs.size())
                .parallel()
                .mapToObj(i -> band(jobs.get(i)[0], jobs.get(i)[1], jobs.get(i)[2], Optional.of(sound)))
                .toList();
        double[][] lowest = new double[Dictionary.FAULTS + 1][];
        double[][] highest = new double[Dictionary.FAULTS + 1][];
        for (int fault = Dictionary.SOUND; fault < Dictionary.FAULTS; fault++) {
            int wanted = fault;
            List<double[]> readings = made.stream()
                    .filter(m -> m.band().fault == wanted)
                    .flatMap(m -> m.readings().stream())
                    .toList();
            if (readings.isEmpty()) {
                lowest[fault + 1] = lowest[0];
                highest[fault + 1] = highest[0];
                continue;
            }
            lowest[fault + 1] = quantiles(readings, Dictionary.LOW_QUANTILE);
            highest[fault + 1] = quantiles(readings, 1 - Dictionary.LOW_QUANTILE);
        }
        return new Dictionary(made.stream().map(Made::band).toList(), lowest, highest, space);
    }

    private static double[] quantiles(List<double[]> readings, double quantile) {
        double[] result = new double[Feature.ALL.size()];
        for (int f = 0; f < result.length; f++) {
            int feature = f;
            double[] sorted =
                    readings.stream().mapToDouble(r -> r[feature]).sorted().toArray();
            result[f] = sorted[(int) Math.round(quantile * (sorted.length - 1))];
        }
        return result;
    }

    private Made band(int fault, int band, int bands, Optional<double[]> sound) {
        // the same units in every band, sound or faulty: what a fault does not touch then has the same mean and
        // covariance to the last digit, and the accident of the draw speaks neither for nor against it
        SplittableRandom random = new SplittableRandom(SEED);
        int units = UNITS_PER_BAND;
        List<double[]> readings = new ArrayList<>();
        double[][] drawn = new double[units][];
        for (int i = 0; i < units; i++) {
            double[] draw = new double[Circuit.DRAWS];
            for (int k = 0; k < draw.length; k++) {
                draw[k] = 2 * random.nextDouble() - 1;
            }
            double within = (i + random.nextDouble()) / units;
            Circuit circuit = new Circuit(parts, rail.parts().isEmpty(), space.nominalV(), space.ratedA(), draw);
            if (fault >= 0) {
                PartFault.values()[fault].place(circuit, (band + within) / bands);
            }
            readings.add(new UnitModel(circuit, rail, line).readings());
            drawn[i] = Arrays.copyOf(draw, REGRESSORS);
            drawn[i][REGRESSORS - 1] = 2 * within - 1;
        }
        return new Made(fit(fault, drawn, readings, sound), readings);
    }

    /** Readings as a linear function of the draws, plus a rest that is taken as independent from reading to reading. */
    private SeverityBand fit(int fault, double[][] drawn, List<double[]> readings, Optional<double[]> sound) {
        int units = drawn.length;
        int features = Feature.ALL.size();
        double[][] y = new double[features][units];
        double[] mean = new double[features];
        for (int f = 0; f < features; f++) {
            for (int i = 0; i < units; i++) {
                y[f][i] = space.compared(Feature.ALL.get(f), readings.get(i)[f]);
                mean[f] += y[f][i] / units;
            }
        }
        double[][] normal = new double[REGRESSORS][REGRESSORS];
        for (double[] row : drawn) {
            for (int j = 0; j < REGRESSORS; j++) {
                for (int k = 0; k < REGRESSORS; k++) {
                    normal[j][k] += row[j] * row[k];
                }
            }
        }
        for (int j = 0; j < REGRESSORS; j++) {
            normal[j][j] += RIDGE * units;
        }
        Cholesky solver = Cholesky.of(normal);
        double[][] slopes = new double[features][];
        double[] rest = new double[features];
        for (int f = 0; f < features; f++) {
            double[] right = new double[REGRESSORS];
            for (int i = 0; i < units; i++) {
                for (int j = 0; j < REGRESSORS; j++) {
                    right[j] += drawn[i][j] * (y[f][i] - mean[f]);
                }
            }
            slopes[f] = solver.solve(right);
            for (int i = 0; i < units; i++) {
                double left = y[f][i] - mean[f];
                for (int j = 0; j < REGRESSORS; j++) {
                    left -= slopes[f][j] * drawn[i][j];
                }
                rest[f] += left * left / (units - REGRESSORS);
            }
        }
        double[][] covariance = covariance(slopes, rest);
        for (int f = 0; f < features; f++) {
            double[] from = sound.orElse(mean);
            Feature feature = Feature.ALL.get(f);
            int output = new Feature(Sight.OUTPUT, feature.at()).index();
            covariance[f][f] += ModelDoubt.variance(feature, mean[f] - from[f], mean[output] - from[output]);
        }
        return new SeverityBand(fault, mean, covariance);
    }

    private static double[][] covariance(double[][] slopes, double[] rest) {
        int features = slopes.length;
        double[][] covariance = new double[features][features];
        for (int f = 0; f < features; f++) {
            for (int g = 0; g <= f; g++) {
                double sum = 0;
                for (int j = 0; j < REGRESSORS; j++) {
                    // a draw over −1 to 1 has a variance of a third
                    sum += slopes[f][j] * slopes[g][j] / 3;
                }
                covariance[f][g] = sum;
                covariance[g][f] = sum;
            }
            covariance[f][f] += rest[f];
        }
        return covariance;
    }
}
