package railproof.diagnosis;

import java.util.List;

/**
 * The fault dictionary of one rail: what sound units and units with each fault show, with their scatter. Made once per
 * profile; {@link #numbers} and {@link #of} take it to a file and back.
 *
 * <p>Thread: immutable; any.
 */
public final class Dictionary {
    /** Changes whenever the model does: an older cache is then made again. */
    public static final int VERSION = 5;

    static final int SOUND = -1;
    static final int FAULTS = PartFault.values().length;
    /** Quantiles kept of each reading: lowest and highest that a unit shows, nine times in ten. */
    static final double LOW_QUANTILE = 0.05;

    private static final int FEATURES = Feature.ALL.size();

    final List<SeverityBand> bands;
    private final double[][] lowest;
    private final double[][] highest;
    final Space space;

    /**
     * A dictionary.
     *
     * @param lowest by fault (sound units first), by feature, in natural units
     * @param highest likewise
     */
    Dictionary(List<SeverityBand> bands, double[][] lowest, double[][] highest, Space space) {
        this.bands = List.copyOf(bands);
        this.lowest = lowest;
        this.highest = highest;
        this.space = space;
    }

    /** The reading that 95 of 100 units with that fault lie above. */
    double lowest(int fault, Feature feature) {
        return lowest[fault + 1][feature.index()];
    }

    /** The reading that 95 of 100 units with that fault lie below. */
    double highest(int fault, Feature feature) {
        return highest[fault + 1][feature.index()];
    }

    /** Everything as numbers, for a file. */
    public float[] numbers() {
        int perBand = 1 + FEATURES + FEATURES * FEATURES;
        float[] all = new float[3 + bands.size() * perBand + 2 * lowest.length * FEATURES];
        int at = 0;
        all[at++] = bands.size();
        all[at++] = (float) space.nominalV();
        all[at++] = (float) space.ratedA();
        for (SeverityBand band : bands) {
            all[at++] = band.fault;
            for (double v : band.mean) {
                all[at++] = (float) v;
            }
            for (double[] row : band.covariance) {
                for (double v : row) {
                    all[at++] = (float) v;
                }
            }
        }
        for (double[][] table : new double[][][] {lowest, highest}) {
            for (double[] row : table) {
                for (double v : row) {
                    all[at++] = (float) v;
                }
            }
        }
        return all;
    }

    /**
     * Reads {@link #numbers} back.
     *
     * @throws IllegalArgumentException if these are not the numbers of a dictionary of this version
     */
    public static Dictionary of(float[] numbers) {
        int perBand = 1 + FEATURES + FEATURES * FEATURES;
        int count = numbers.length < 3 ? -1 : (int) numbers[0];
        if (count < 1 || count > 10_000 || numbers.length != 3 + count * perBand + 2 * (FAULTS + 1) * FEATURES) {
            throw new IllegalArgumentException("not the numbers of a fault dictionary");
        }
        Cursor in = new Cursor(numbers, 3);
        SeverityBand[] bands = new SeverityBand[count];
        for (int i = 0; i < count; i++) {
            int fault = (int) in.next();
            double[] mean = in.row();
            double[][] covariance = new double[FEATURES][];
            for (int r = 0; r < FEATURES; r++) {
                covariance[r] = in.row();
            }
            bands[i] = new SeverityBand(fault, mean, covariance);
        }
        double[][] lowest = new double[FAULTS + 1][];
        double[][] highest = new double[FAULTS + 1][];
        for (double[][] table : new double[][][] {lowest, highest}) {
            for (int r = 0; r <= FAULTS; r++) {
                table[r] = in.row();
            }
        }
        return new Dictionary(List.of(bands), lowest, highest, new Space(numbers[1], numbers[2]));
    }

    private static final class Cursor {
        private final float[] numbers;
        private int at;

        Cursor(float[] numbers, int at) {
            this.numbers = numbers;
            this.at = at;
        }

        double next() {
            return numbers[at++];
        }

        double[] row() {
            double[] row = new double[FEATURES];
            for (int i = 0; i < FEATURES; i++) {
                row[i] = next();
            }
            return row;
        }
    }
}
