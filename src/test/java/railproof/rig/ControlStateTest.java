package railproof.rig;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import org.junit.jupiter.api.Test;

class ControlStateTest {
    @Test
    void everyStateButTheEndCanBeMadeSafe() {
        for (ControlState state : ControlState.values()) {
            boolean ended = state == ControlState.DONE || state == ControlState.MAKING_SAFE;
            assertEquals(!ended, state.mayBecome(ControlState.MAKING_SAFE), state.name());
        }
    }

    @Test
    void theEndIsTheEnd() {
        assertTrue(Arrays.stream(ControlState.values()).noneMatch(ControlState.DONE::mayBecome));
    }
}
