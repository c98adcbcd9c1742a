package railproof.sim.device;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

class SlewedRatioTest {
    /** 10 ms full scale, 1 ms lag: to 0.5 it runs straight for 5 - 1 = 4 ms, up to 0.4. */
    private final SlewedRatio setpoint = new SlewedRatio(10e-3, 1e-3);

    @Test
    void runsStraightWhileFarAway() {
        setpoint.advance(2e-3, 0.5);

        // exact in algebra; 1e-12 covers rounding of a few operations
        assertEquals(0.2, setpoint.valueRatio(), 1e-12);
    }

    @Test
    void settlesExponentiallyNearby() {
        setpoint.advance(4e-3 + 2e-3, 0.5);

        assertEquals(0.5 - 0.1 * Math.exp(-2), setpoint.valueRatio(), 1e-12);
    }

    @Test
    void comesDownAsItWentUp() {
        setpoint.jumpTo(1);
        setpoint.advance(4e-3, 0.5);

        assertEquals(0.6, setpoint.valueRatio(), 1e-12);
    }

    @Test
    void doesNotDependOnTheStepsAndNeverOvershoots() {
        long seed = 11;
        Random random = new Random(seed);
        for (int round = 0; round < 200; round++) {
            SlewedRatio whole = new SlewedRatio(10e-3, 1e-3);
            SlewedRatio stepped = new SlewedRatio(10e-3, 1e-3);
            double target = random.nextDouble();
            double passedS = 0;
            for (int step = 0; step < 20; step++) {
                double durationS = random.nextDouble() * 1e-3;
                stepped.advance(durationS, target);
                passedS += durationS;
                assertTrue(stepped.valueRatio() <= target + 1e-15, "seed " + seed + ", round " + round);
            }
            whole.advance(passedS, target);
            assertEquals(whole.valueRatio(), stepped.valueRatio(), 1e-12, "seed " + seed + ", round " + round);
        }
    }
}
