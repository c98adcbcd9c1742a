package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.api.Test;

class TicksTest {
    @Test
    void standsAtRoundNumbersInsideTheAxis() {
        assertEquals(List.of(0.0, 2.0, 4.0, 6.0, 8.0), Ticks.of(0, 8.64, 6));
        assertEquals(List.of(-20.0, -10.0, 0.0), Ticks.of(-27.6, 0, 5));
    }

    @Test
    void takesBothEndsWhenTheyAreRound() {
        assertEquals(List.of(0.0, 0.5, 1.0), Ticks.of(0, 1, 2));
    }
}
