package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** Readings in their order, so that every mean of them is known. */
class TrendOfFewTest {
    private static Trend of(int readings) {
        Trend trend = new Trend();
        for (int i = 0; i < readings; i++) {
            trend.add(10.0 * i, i);
        }
        return trend;
    }

    /** 128 are kept one by one; the next joins them in pairs and waits for its own. */
    @Test
    void fullRoomIsJoinedInPairs() {
        assertEquals(128, of(128).size());
        assertEquals(1270, of(128).spanS(), 0);
        assertEquals(64, of(129).size());
        assertEquals(65, of(130).size());
        // means of (0, 1) and (128, 129)
        assertEquals(10 * (128.5 - 0.5), of(130).spanS(), 1e-9);
        assertEquals(128, of(256).size());
        assertEquals(64, of(258).size());
        assertEquals(65, of(260).size());
        // means of (0 to 3) and (256 to 259)
        assertEquals(10 * (257.5 - 1.5), of(260).spanS(), 1e-9);
    }

    @Test
    void theSpanIsFromTheFirstMeanToTheLast() {
        assertEquals(0, of(0).spanS(), 0);
        assertEquals(0, of(1).spanS(), 0);
        assertEquals(10, of(2).spanS(), 0);
        Trend late = new Trend();
        late.add(1000, 5);
        late.add(1007, 5);
        assertEquals(7, late.spanS(), 0);
    }

    @Test
    void theLastFourMeansAreRecent() {
        assertTrue(of(0).recent().isEmpty());
        assertEquals(0, of(1).recent().orElseThrow(), 0);
        assertEquals(1, of(3).recent().orElseThrow(), 0);
        assertEquals(1.5, of(4).recent().orElseThrow(), 0);
        assertEquals(7.5, of(10).recent().orElseThrow(), 0);
        // pairs (122, 123) to (128, 129)
        assertEquals(125.5, of(130).recent().orElseThrow(), 1e-12);
    }

    @Test
    void eightMeansCarryALine() {
        assertTrue(of(7).drift().isEmpty());
        assertEquals(0.1, of(8).drift().orElseThrow().slopeVPerS(), 1e-12);
        assertEquals(0.1, of(300).drift().orElseThrow().slopeVPerS(), 1e-12);
    }

    /** A straight line changes by its slope over the record, whenever the record began. */
    @Test
    void theChangeIsTheLinesOverTheRecord() {
        double[] t = new double[20];
        double[] v = new double[20];
        for (int i = 0; i < 20; i++) {
            t[i] = 5000 + 60 * i;
            v[i] = 12 + 2e-6 * t[i] + (i % 2 == 0 ? 1e-4 : -1e-4);
        }

        Drift found = Drift.of(t, v);

        // the pattern's ten pairs fall by one spacing each: over n (n^2 - 1) / 12 = 665 that is the tilt
        double slope = 2e-6 - 10 * 1e-4 / 665 / 60;
        assertEquals(slope, found.slopeVPerS(), 1e-14);
        assertEquals(slope * 19 * 60, found.changeV(), 1e-11);
        // a pattern that alternates is worth all its readings
        assertEquals(18, found.dof(), 1e-9);
    }
}
