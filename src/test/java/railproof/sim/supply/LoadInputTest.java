package railproof.sim.supply;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.sim.LoadInput;
import railproof.sim.Node;
import railproof.sim.Plant;

/** A load's input capacitor across the output, against two capacitors and their resistances on paper. */
final class LoadInputTest {
    private static final double OUTPUT_F = 220e-6;
    private static final double OUTPUT_ESR_OHM = 0.08;

    @ParameterizedTest
    @CsvSource({"100e-6, 0.05", "0.5e-6, 0.02", "2200e-6, 0.2"})
    void aChargedInputSharesItsChargeWithADeadOutput(double inputF, double leadOhm) {
        // two capacitors through their resistances: both ends run to the common voltage with one time constant
        // one volt opens no junction of the dead regulator, so that only these two share
        double heldV = 1;
        double commonV = heldV * inputF / (inputF + OUTPUT_F);
        double seriesF = inputF * OUTPUT_F / (inputF + OUTPUT_F);
        double timeConstantS = seriesF * (leadOhm + OUTPUT_ESR_OHM);
        Plant plant = Bench.supply().build(Bench.AT_27_C);
        plant.advanceTo(0.01);

        plant.connect(0, new LoadInput(inputF, leadOhm, heldV));

        for (int i = 1; i <= 40; i++) {
            double sinceS = i * timeConstantS / 8;
            plant.advanceTo(0.01 + sinceS);
            double left = Math.exp(-sinceS / timeConstantS);
            double inputV = commonV + (heldV - commonV) * left;
            double flowA = heldV / (leadOhm + OUTPUT_ESR_OHM) * left;
            // 0.5 % of the start: the integration; the dead regulator's resistors take another 0.1 %
            assertEquals(inputV, plant.inputV(0), 0.006 * heldV, "load side after " + i + "/8 time constants");
            assertEquals(inputV - leadOhm * flowA, plant.voltageV(0, Node.OUTPUT), 0.006 * heldV, "output " + i);
        }
    }

    @Test
    void anEmptyInputPullsTheOutputDownByTheDividerOfLeadAndSeriesResistance() {
        Plant plant = Bench.start(Bench.supply(), 115);
        plant.advanceTo(0.5);
        double beforeV = plant.voltageV(0, Node.OUTPUT);

        plant.connect(0, new LoadInput(100e-6, 0.05, 0));
        plant.advanceTo(0.5 + 2e-8);

        // nothing else can answer within 20 ns; the capacitors have moved by 0.3 % of a time constant
        double expectedV = beforeV * 0.05 / (0.05 + OUTPUT_ESR_OHM);
        assertEquals(expectedV, plant.voltageV(0, Node.OUTPUT), 0.01 * beforeV);
        plant.advanceTo(0.6);
        assertEquals(beforeV, plant.voltageV(0, Node.OUTPUT), 0.01);
        assertEquals(plant.voltageV(0, Node.OUTPUT), plant.inputV(0), 0.01);
    }

    @Test
    void takenAwayItLeavesTheUnitAsItWas() {
        Plant plain = Bench.start(Bench.supply(), 115);
        Plant visited = Bench.start(Bench.supply(), 115);
        plain.advanceTo(1);
        visited.advanceTo(0.3);
        visited.connect(0, new LoadInput(10e-6, 0.02, 0));
        visited.advanceTo(0.6);
        visited.connect(0, LoadInput.NONE);
        visited.advanceTo(1);

        // the inrush has taken a little from the reservoir, and the two integrations have other steps: 1e-4 of 12 V
        assertEquals(plain.voltageV(0, Node.OUTPUT), visited.voltageV(0, Node.OUTPUT), 1.2e-3);
        assertEquals(visited.voltageV(0, Node.OUTPUT), visited.inputV(0));
    }

    @Test
    void refusesWhatNoCapacitorIs() {
        String message = String.valueOf(assertThrows(IllegalArgumentException.class, () -> new LoadInput(-1e-6, 0, 0))
                .getMessage());

        assertTrue(message.contains("-1.0E-6"), message);
        assertThrows(IllegalArgumentException.class, () -> new LoadInput(0, Double.NaN, 0));
        assertThrows(IllegalArgumentException.class, () -> new LoadInput(0, 0, Double.POSITIVE_INFINITY));
    }
}
