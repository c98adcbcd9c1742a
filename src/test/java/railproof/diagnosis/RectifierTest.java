package railproof.diagnosis;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import railproof.profile.PartList;
import railproof.profile.PartList.Toleranced;
import railproof.profile.PartValue;

/**
 * The rectifier of the model against ngspice 39: 18 V r.m.s., 0.25 Ω, bridge, 4700 µF with 20 mΩ, 20 Ω load, 60 Hz gives
 * 21.860 V with 1.4615 V p-p; one diode open 20.603 V with 3.0835 V p-p and 1.1323 V at the line. Tolerance 2 %: the
 * model draws a constant current where the circuit has a resistor (ripple 1 % of the mean either way), and guesses the
 * diode.
 */
final class RectifierTest {
    private static Circuit circuit() {
        PartList parts = Bench12V.rail().parts().orElseThrow();
        Map<PartValue, Toleranced> values = new EnumMap<>(parts.values());
        values.put(PartValue.SECONDARY, new Toleranced(18, 0.01));
        values.put(PartValue.WINDING, new Toleranced(0.274, 0.01));
        values.put(PartValue.RESERVOIR, new Toleranced(4700e-6, 0.01));
        values.put(PartValue.RESERVOIR_ESR, new Toleranced(0.02, 0.01));
        return new Circuit(new PartList(parts.rectifier(), values), false, 12, 2, new double[Circuit.DRAWS]);
    }

    private static double span(double[] v) {
        return Arrays.stream(v).max().orElseThrow() - Arrays.stream(v).min().orElseThrow();
    }

    @Test
    void aSoundBridgeGivesMeanAndRippleOfTheCircuitSimulation() {
        Circuit circuit = circuit();
        Rectifier rectifier = new Rectifier(circuit, 60);

        rectifier.solve(1, circuit.windingOhm, 21.860 / 20);

        assertEquals(21.860, Arrays.stream(rectifier.rawV).average().orElseThrow(), 0.02 * 21.860);
        assertEquals(1.4615, span(rectifier.rawV), 0.02 * 1.4615);
    }

    @Test
    void oneOpenDiodeDoublesTheRippleAndTakesLittleOfTheMean() {
        Circuit circuit = circuit();
        PartFault.DIODE_OPEN.place(circuit, 1);
        Rectifier rectifier = new Rectifier(circuit, 60);

        rectifier.solve(1, circuit.windingOhm, 20.603 / 20);

        assertEquals(20.603, Arrays.stream(rectifier.rawV).average().orElseThrow(), 0.02 * 20.603);
        assertEquals(3.0835, span(rectifier.rawV), 0.02 * 3.0835);
    }
}
