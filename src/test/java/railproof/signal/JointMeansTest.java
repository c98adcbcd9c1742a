package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import org.junit.jupiter.api.Test;

class JointMeansTest {
    /** GUM (JCGM 100:2008) H.2: resistance, reactance and impedance from voltage, current and phase read together. */
    @Test
    void simultaneousResistanceAndReactance() {
        JointMeans read = JointMeans.of(List.of(
                new double[] {5.007, 4.994, 5.005, 4.990, 4.999},
                new double[] {19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3},
                new double[] {1.0456, 1.0438, 1.0468, 1.0428, 1.0433}));

        assertEquals(4.9990, read.mean(0), 1e-6);
        assertEquals(19.6610e-3, read.mean(1), 1e-9);
        assertEquals(1.04446, read.mean(2), 1e-7);
        assertEquals(3.2e-3, read.standardU(0), 0.05e-3);
        assertEquals(9.5e-6, read.standardU(1), 0.05e-6);
        assertEquals(0.75e-3, read.standardU(2), 0.005e-3);
        assertEquals(-0.355, read.correlation(0, 1), 0.001);
        assertEquals(0.858, read.correlation(0, 2), 0.001);
        assertEquals(-0.645, read.correlation(1, 2), 0.001);

        JointMeans result = read.results(
                List.of(x -> x[0] / x[1] * Math.cos(x[2]), x -> x[0] / x[1] * Math.sin(x[2]), x -> x[0] / x[1]));

        assertEquals(127.732, result.mean(0), 1e-3);
        assertEquals(219.847, result.mean(1), 1e-3);
        assertEquals(254.260, result.mean(2), 1e-3);
        assertEquals(0.0711, result.standardU(0), 0.01 * 0.0711);
        assertEquals(0.2956, result.standardU(1), 0.01 * 0.2956);
        assertEquals(0.2363, result.standardU(2), 0.01 * 0.2363);
        assertEquals(-0.588, result.correlation(0, 1), 0.002);
        assertEquals(-0.485, result.correlation(0, 2), 0.002);
        assertEquals(0.993, result.correlation(1, 2), 0.001);
    }

    @Test
    void refusesSeriesOfUnequalLength() {
        assertThrows(IllegalArgumentException.class, () -> JointMeans.of(List.of(new double[3], new double[4])));
        assertThrows(IllegalArgumentException.class, () -> JointMeans.of(List.of(new double[1])));
    }
}
