package railproof.diagnosis;

import java.util.Map;
import railproof.base.Measured;

/**
 * Readings in the space of comparison.
 *
 * @param places of the features read
 * @param y what was read
 * @param variance of the reading itself
 */
@SuppressWarnings("ArrayRecordComponent") // a bundle that nobody compares
record Compared(int[] places, double[] y, double[] variance) {
    static Compared of(Space space, Readings readings) {
        int count = readings.values().size();
        Compared compared = new Compared(new int[count], new double[count], new double[count]);
        int k = 0;
        for (Map.Entry<Feature, Measured> each : readings.values().entrySet()) {
            Feature feature = each.getKey();
            Measured value = each.getValue();
            compared.places[k] = feature.index();
            compared.y[k] = space.compared(feature, value.value());
            double u = space.comparedU(feature, value.value(), value.standardU());
            compared.variance[k++] = u * u;
        }
        return compared;
    }

    /** How far the readings are from the middle of a band. */
    double[] off(SeverityBand band) {
        double[] off = new double[places.length];
        for (int i = 0; i < off.length; i++) {
            off[i] = y[i] - band.mean[places[i]];
        }
        return off;
    }

    /** Factor of a band's covariance of these readings, their own variances included. */
    Cholesky factor(SeverityBand band) {
        double[][] part = new double[places.length][places.length];
        for (int i = 0; i < places.length; i++) {
            for (int j = 0; j < places.length; j++) {
                part[i][j] = band.covariance[places[i]][places[j]];
            }
            part[i][i] += variance[i];
        }
        return Cholesky.of(part);
    }

    /**
     * What a unit of a band would show, each reading given all others.
     *
     * @param expected by reading
     * @param u its standard deviation
     */
    @SuppressWarnings("ArrayRecordComponent") // a bundle that nobody compares
    record GivenOthers(double[] expected, double[] u) {}

    /** Works out {@link GivenOthers}: mean and variance of one component of a normal distribution given the rest. */
    GivenOthers givenOthers(SeverityBand band) {
        Cholesky factor = factor(band);
        double[] pull = factor.solve(off(band));
        GivenOthers given = new GivenOthers(new double[y.length], new double[y.length]);
        for (int i = 0; i < y.length; i++) {
            double[] unit = new double[y.length];
            unit[i] = 1;
            double inverse = factor.solve(unit)[i];
            given.expected[i] = y[i] - pull[i] / inverse;
            given.u[i] = 1 / Math.sqrt(inverse);
        }
        return given;
    }
}
