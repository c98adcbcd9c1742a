package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

class TrendTest {
    @Test
    void aDayOfReadingsKeepsTheSlopeInBoundedMemory() {
        Trend trend = new Trend();
        Random noise = new Random(41);
        for (int i = 0; i < 8640; i++) {
            trend.add(10.0 * i, 5 + 1e-7 * 10 * i + 1e-3 * noise.nextGaussian());
        }
        assertTrue(trend.size() <= 128);
        Drift drift = trend.drift().orElseThrow();
        assertTrue(drift.significant());
        // seed 41; slope uncertainty of 8640 readings of 1 mV over 86400 s is 4.3e-10 V/s: four of them
        assertEquals(1e-7, drift.slopeVPerS(), 4 * 4.3e-10);
        assertEquals(86_400, trend.spanS(), 86_400 * 0.03);
    }

    @Test
    void noiseAloneIsNoDrift() {
        int drifting = 0;
        for (long seed = 1; seed <= 200; seed++) {
            Trend trend = new Trend();
            Random noise = new Random(seed);
            for (int i = 0; i < 1000; i++) {
                trend.add(10.0 * i, 5 + 1e-3 * noise.nextGaussian());
            }
            drifting += trend.drift().orElseThrow().significant() ? 1 : 0;
        }
        // 4.55 % of 200 are 9; three standard deviations of the count are 9 more
        assertTrue(drifting <= 18, drifting + " of 200 (seeds 1 to 200)");
    }

    @Test
    void aRestartForgetsEverything() {
        Trend trend = new Trend();
        for (int i = 0; i < 20; i++) {
            trend.add(i, i);
        }
        trend.restart();
        assertEquals(0, trend.size());
        assertFalse(trend.drift().isPresent());
        assertFalse(trend.recent().isPresent());
    }
}
