package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.Random;
import org.junit.jupiter.api.Test;
import railproof.base.Measured;
import railproof.base.Unit;

class StatisticsTest {
    /** Seeds printed: shift and scale go where they should, and time has no direction. */
    @Test
    void shiftScaleAndReversal() {
        for (long seed = 1; seed <= 200; seed++) {
            Random random = new Random(seed);
            int n = 3 + random.nextInt(200);
            double[] y = random.doubles(n, -1, 1).toArray();
            double shift = 100 * random.nextDouble();
            double scale = 0.5 + 10 * random.nextDouble();
            double[] changed = new double[n];
            for (int i = 0; i < n; i++) {
                changed[n - 1 - i] = shift - scale * y[i];
            }
            Statistics a = Statistics.of(y);
            Statistics b = Statistics.of(changed);

            assertEquals(shift - scale * a.meanDimensionless(), b.meanDimensionless(), 1e-12 * shift, "seed " + seed);
            assertEquals(scale * a.sdDimensionless(), b.sdDimensionless(), 1e-11 * scale, "seed " + seed);
            assertEquals(a.lag1Dimensionless(), b.lag1Dimensionless(), 1e-10, "seed " + seed);
        }
    }

    /** Brute force: the scatter of 3000 means of 200 correlated samples against what one record claims on average. */
    @Test
    void uncertaintyOfACorrelatedMeanIsItsScatter() {
        long seed = 5;
        Random random = new Random(seed);
        double[] means = new double[3000];
        double claimed = 0;
        for (int k = 0; k < means.length; k++) {
            double[] y = new double[200];
            double last = random.nextGaussian() / Math.sqrt(1 - 0.25);
            for (int i = 0; i < y.length; i++) {
                y[i] = last;
                last = 0.5 * last + random.nextGaussian();
            }
            Statistics found = Statistics.of(y);
            means[k] = found.meanDimensionless();
            claimed += found.standardUOfMean() / means.length;
        }
        double scatter = Statistics.of(means).sdDimensionless();

        // the lag-1 estimate is low by about (1 + 3 r) / n = 1.3 %, which costs 2 %; the scatter is known to 1.3 %
        assertEquals(scatter, claimed, 0.06 * scatter, "seed " + seed);
    }

    @Test
    void independentSamplesCountInFull() {
        // alternating: negative correlation is not credited
        Measured mean = Statistics.of(1, 3, 1, 3).measuredMean(Unit.VOLT);

        assertEquals(2, mean.value(), 0);
        assertEquals(Math.sqrt(4.0 / 3) / 2, mean.randomU(), 1e-12);
        assertEquals(3, mean.randomDof(), 0);
    }

    @Test
    void constantSeriesHasNoScatter() {
        Statistics found = Statistics.of(0.1, 0.1, 0.1);

        assertEquals(0.1, found.meanDimensionless(), 1e-17);
        assertEquals(0, found.sdDimensionless(), 1e-16);
    }

    @Test
    void refusesWhatIsNoSeries() {
        assertThrows(IllegalArgumentException.class, () -> Statistics.of(1));
        assertThrows(IllegalArgumentException.class, () -> Statistics.of(1, Double.NaN));
        assertThrows(IllegalArgumentException.class, () -> Statistics.of(1, Double.POSITIVE_INFINITY));
        assertThrows(IllegalArgumentException.class, Statistics::mean);
    }
}
