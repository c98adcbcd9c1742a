package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;
import railproof.base.Measured;
import railproof.base.Unit;

/** A load sweep by hand: 0.12 V lost at full load, of which warming has taken a part. */
class ThermalPartTest {
    private static ThermalPart.Level at(double atS, double volts) {
        return new ThermalPart.Level(atS, Measured.of(volts, 1e-4, Unit.VOLT));
    }

    @Test
    void aUnitThatStaysAsItWasHasALoadEffectAlone() {
        ThermalPart parts = ThermalPart.of(at(0, 5.00), at(30, 4.88), at(40, 5.00));

        assertEquals(0, parts.change().value(), 1e-12);
        assertEquals(0, parts.warmingV(), 1e-12);
        assertEquals(0.12, parts.loadEffectV(), 1e-12);
    }

    @Test
    void warmingHasGoneAsFarAsTime() {
        // the output without load has fallen by 40 mV in 50 s; after 10 of them by 8 mV
        ThermalPart falling = ThermalPart.of(at(100, 5.00), at(110, 4.88), at(150, 4.96));

        assertEquals(-0.040, falling.change().value(), 1e-12);
        assertEquals(0.008, falling.warmingV(), 1e-12);
        assertEquals(0.112, falling.loadEffectV(), 1e-12);

        ThermalPart rising = ThermalPart.of(at(100, 5.00), at(140, 4.88), at(150, 5.04));

        assertEquals(-0.032, rising.warmingV(), 1e-12);
        assertEquals(0.152, rising.loadEffectV(), 1e-12);
    }

    @Test
    void theLastReadingHasToBeLaterThanTheFirst() {
        assertThrows(IllegalArgumentException.class, () -> ThermalPart.of(at(9, 5), at(9, 4.9), at(9, 5)));
    }
}
