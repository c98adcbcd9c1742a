package railproof.sim.device;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

final class BoardTimeTest {
    private static final long DAY_NS = 86_400_000_000_000L;

    @Test
    void theInstantOfATickIsTheFirstThatShowsIt() {
        for (long seed = 1; seed <= 20; seed++) {
            Random random = new Random(seed);
            double errorRatio = (random.nextInt(2001) - 1000) * 1e-6;
            BoardTime time = new BoardTime(errorRatio);
            time.reset(random.nextInt());
            for (int i = 0; i < 2000; i++) {
                long ticks = (long) (random.nextDouble() * 30 * DAY_NS / 1000);
                String story = "seed " + seed + ", error " + errorRatio + ", tick " + ticks;
                assertEquals(ticks, time.ticks(time.ns(ticks)), story);
                assertEquals(ticks - 1, time.ticks(time.ns(ticks) - 1), story);
            }
        }
    }

    @Test
    void aDayIsAsLongAsTheCrystalSays() {
        BoardTime time = new BoardTime(80e-6);
        time.reset(5);

        // 80 ppm of 86 400 s is 6.912 s
        assertEquals(86_406_912_000L, time.ticks(5 + DAY_NS));
        assertTrue(time.ns(86_400_000_000L) < 5 + DAY_NS);
    }

    @Test
    void aCrystalThatIsNoneIsRefused() {
        BoardSettings good = BoardSettings.standard("B-0001", List.of(AdcChannel.ideal("out", -10, 10)), 7);

        String message =
                String.valueOf(assertThrows(IllegalArgumentException.class, () -> good.withClockErrorRatio(0.01))
                        .getMessage());
        assertTrue(message.contains("0.01") && message.contains("-0.001 to 0.001"), message);
        assertThrows(IllegalArgumentException.class, () -> good.withClockErrorRatio(Double.NaN));
    }
}
