package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Edges of a line of 100 V peak and 50 Hz, at 50 000 samples per second: 20 us a sample, 1000 samples a cycle. */
class LineEdgeTest {
    private static final double RATE_HZ = 50_000;
    private static final double LINE_HZ = 50;
    private static final double SAMPLE_S = 20e-6;
    private static final double OMEGA = 2 * Math.PI * LINE_HZ;

    /** Nothing but a few samples, then no line for long enough. */
    private static double[] gone(double... lineV) {
        return Arrays.copyOf(lineV, lineV.length + 1000);
    }

    private static double[] come(double... lineV) {
        double[] v = new double[10 + lineV.length];
        System.arraycopy(lineV, 0, v, 10, lineV.length);
        return v;
    }

    private static LineEdge on(double... lineV) {
        return LineEdge.on(come(lineV), RATE_HZ, LINE_HZ).orElseThrow();
    }

    private static LineEdge off(double... lineV) {
        return LineEdge.off(gone(lineV), RATE_HZ, LINE_HZ).orElseThrow();
    }

    private static void assertEdge(int index, double atS, double halfWidthS, LineEdge found) {
        assertEquals(index, found.index());
        assertEquals(atS, found.atS(), 1e-12);
        assertEquals(halfWidthS, found.halfWidthS(), 1e-12);
    }

    /** On a slope there is one sample of doubt: up to one before the first that shows it, or after the last. */
    @ParameterizedTest(name = "{0} V beside the edge")
    @CsvSource({"3", "-3", "50", "-100"})
    void anEdgeAwayFromTheZeroIsKnownToOneSample(double besideV) {
        assertEdge(10, -0.5 * SAMPLE_S, 0.5 * SAMPLE_S, on(besideV, 1.3 * besideV, 100));
        assertEdge(3, -0.5 * SAMPLE_S, 0.5 * SAMPLE_S, off(100, 1.3 * besideV, besideV));
    }

    /**
     * At 2.5 % of the peak a wave has been above 2 % for asin 0.025 − asin 0.02, 16 us, less than a sample: the line may
     * have come anywhere from −2 % on, asin 0.025 + asin 0.02 before.
     */
    @Test
    void anEdgeNearTheZeroMayHaveBeenAnywhereAboutIt() {
        double hiddenS = (Math.asin(0.025) + Math.asin(0.02)) / OMEGA;

        assertEdge(10, -0.5 * hiddenS, 0.5 * hiddenS, on(2.5, 3, 100));
        assertEdge(3, 0.5 * hiddenS - SAMPLE_S, 0.5 * hiddenS, off(100, 3, -2.5));
        // going away from the zero towards the edge, it was not hidden there
        assertEdge(10, -0.5 * SAMPLE_S, 0.5 * SAMPLE_S, on(2.5, 2.5, 100));
        assertEdge(3, -0.5 * SAMPLE_S, 0.5 * SAMPLE_S, off(100, 2.5, 2.5));
    }

    /** With few samples the doubt about the zero is less than the one from sample to sample. */
    @Test
    void slowSamplingHidesNoLessThanASample() {
        double slowHz = 1000;
        double[] v = Arrays.copyOf(new double[] {100, 3, 2.5}, 40);

        LineEdge off = LineEdge.off(v, slowHz, LINE_HZ).orElseThrow();

        assertEdge(3, -0.5 / slowHz, 0.5 / slowHz, off);
    }

    @Test
    void twoPercentOfThePeakAreNoLineYet() {
        assertEquals(12, on(2, -2, 2.01, 100).index());
        assertEquals(2, off(100, 2.01, 2, -2).index());
    }

    @Test
    void lineInOneSampleOnlyIsAnEdgeToo() {
        assertEdge(10, -0.5 * SAMPLE_S, 0.5 * SAMPLE_S, on(100));
        assertEdge(1, -0.5 * SAMPLE_S, 0.5 * SAMPLE_S, off(100));
        assertEquals(
                1,
                LineEdge.on(new double[] {0, 100}, RATE_HZ, LINE_HZ)
                        .orElseThrow()
                        .index());
    }

    @Test
    void theLineMustStayOffForAWholeCycle() {
        double[] line = {100, 50, 20};

        assertEquals(
                3,
                LineEdge.off(Arrays.copyOf(line, 1003), RATE_HZ, LINE_HZ)
                        .orElseThrow()
                        .index());
        assertEquals(Optional.empty(), LineEdge.off(Arrays.copyOf(line, 1002), RATE_HZ, LINE_HZ));
    }

    @Test
    void withoutLineThereAreNoEdges() {
        assertTrue(LineEdge.on(new double[2000], RATE_HZ, LINE_HZ).isEmpty());
        assertTrue(LineEdge.off(new double[2000], RATE_HZ, LINE_HZ).isEmpty());
        assertTrue(LineEdge.on(gone(100, 50), RATE_HZ, LINE_HZ).isEmpty());
    }

    /**
     * A sine going off at any phase, seeds printed. The zero lies on the straight line between two samples: a sine bends
     * by (ωΔt)³ / 9√3 · 1/2 there at most, 8e-9 rad at 2π/1000 a sample.
     */
    @Test
    void thePhaseOfAnEdgeIsCountedFromTheRisingZeroBefore() {
        for (long seed = 1; seed <= 40; seed++) {
            Random random = new Random(seed);
            double startRad = 2 * Math.PI * random.nextDouble();
            int edge = 2200 + random.nextInt(1000);
            double[] v = new double[edge + 1500];
            for (int i = 0; i < edge; i++) {
                v[i] = 100 * Math.sin(startRad + OMEGA * i * SAMPLE_S);
            }
            double cycles = startRad / (2 * Math.PI) + edge / 1000.0;

            double found =
                    new LineEdge(edge, 0, 0).phaseCycles(v, RATE_HZ, LINE_HZ).orElseThrow();

            double apart = found - cycles - Math.rint(found - cycles);
            assertEquals(0, apart, 1e-8, "seed " + seed);
            assertTrue(found >= 0 && found < 1, "seed " + seed + ": " + found);
        }
    }

    /** A line cut off between two samples: the edge's half width is all that its phase is not known by. */
    @Test
    void thePhaseOfALineThatIsCutOffIsKnownToTheEdgesHalfWidth() {
        double bias = 0;
        for (long seed = 1; seed <= 200; seed++) {
            Random random = new Random(seed);
            double startCycles = random.nextDouble();
            double cutS = 0.05 + 0.04 * random.nextDouble();
            double[] v = new double[6000];
            for (int i = 0; i * SAMPLE_S < cutS; i++) {
                v[i] = 325 * Math.sin(2 * Math.PI * startCycles + OMEGA * i * SAMPLE_S);
            }
            LineEdge off = LineEdge.off(v, RATE_HZ, LINE_HZ).orElseThrow();
            double found = off.phaseCycles(v, RATE_HZ, LINE_HZ).orElseThrow();

            double apart = found - startCycles - cutS * LINE_HZ;
            apart -= Math.rint(apart);
            assertEquals(0, apart, off.halfWidthS() * LINE_HZ + 1e-8, "seed " + seed);
            bias += apart / 200;
        }
        // 0.5 of a sample's 1e-3 cycles, evenly spread, 200 times: three standard deviations
        assertEquals(0, bias, 3 * 1e-3 / Math.sqrt(12 * 200));
    }

    /** A triangle is its own straight line: the zero between −3 and 1 lies a quarter of a sample before the 1. */
    @Test
    void thePhaseOfStraightLinesIsExact() {
        double[] v = {1, -3, 1, 5, 9, 0, 0, 0};

        assertEquals(
                (5 - 1.75) / 1000,
                new LineEdge(5, 0, 0).phaseCycles(v, RATE_HZ, LINE_HZ).orElseThrow(),
                1e-15);
        // a zero that is a sample: counted from there
        double[] through = {-4, 0, 4, 8, 0, 0};
        assertEquals(
                3.0 / 1000,
                new LineEdge(4, 0, 0).phaseCycles(through, RATE_HZ, LINE_HZ).orElseThrow(),
                1e-15);
        // at twice the line's frequency the same samples are twice the phase
        assertEquals(
                6.0 / 1000,
                new LineEdge(4, 0, 0).phaseCycles(through, RATE_HZ, 100).orElseThrow(),
                1e-15);
    }

    @Test
    void withoutARisingZeroBeforeTheEdgeHasNoPhase() {
        double[] falling = {9, 5, 1, -3, -7, 0, 0};

        assertTrue(new LineEdge(5, 0, 0).phaseCycles(falling, RATE_HZ, LINE_HZ).isEmpty());
    }
}
