package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;

/** What the bar below every screen says of several benches: the worst of them is never hidden by the others. */
class PowerTest {
    private static final Power ON =
            new Power(new Power.Field(Power.State.ON, "4 A"), new Power.Field(Power.State.ON, "115 V"), "stops", true);
    private static final Power OFF = Power.off("confirmed", "over", false);
    private static final Power DOUBT = new Power(
            new Power.Field(Power.State.DOUBT, "not confirmed"),
            new Power.Field(Power.State.DOUBT, "not confirmed"),
            "NOT CONFIRMED",
            false);

    @Test
    void oneBenchSpeaksForItself() {
        assertEquals(ON, Power.together(List.of(ON)));
    }

    @Test
    void whatOneBenchHasOnIsOn() {
        Power together = Power.together(List.of(OFF, ON, OFF, ON));

        assertEquals(new Power.Field(Power.State.ON, "on 2 of 4 benches"), together.load());
        assertTrue(together.canStop());
    }

    @Test
    void doubtAboutOneBenchIsNotHiddenByTheOthers() {
        Power together = Power.together(List.of(ON, DOUBT, OFF));

        assertEquals(new Power.Field(Power.State.DOUBT, "1 of 3 not confirmed"), together.line());
        assertTrue(together.hint().contains("NOT CONFIRMED"), together.hint());
        assertTrue(together.canStop(), "the others can still be stopped");
    }

    @Test
    void aBenchThatIsNotYetMetIsNotCalledOff() {
        Power together = Power.together(List.of(OFF, Power.IDLE));

        assertEquals(new Power.Field(Power.State.UNUSED, "being switched off on 1"), together.load());
    }

    @Test
    void allOffIsOff() {
        Power together = Power.together(List.of(OFF, OFF));

        assertEquals(Power.State.OFF, together.load().state());
        assertFalse(together.canStop());
    }
}
