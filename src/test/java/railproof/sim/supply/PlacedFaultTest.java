package railproof.sim.supply;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

final class PlacedFaultTest {
    @Test
    void readsNameSeverityAndRail() {
        PlacedFault plain = PlacedFault.parse("driver-open");
        PlacedFault severe = PlacedFault.parse("reservoir-high-esr:0.3");
        PlacedFault placed = PlacedFault.parse("noisy-reference:1@-12V");

        assertEquals(new PlacedFault(Fault.DRIVER_OPEN, 1, ""), plain);
        assertEquals(new PlacedFault(Fault.RESERVOIR_HIGH_ESR, 0.3, ""), severe);
        assertEquals(new PlacedFault(Fault.NOISY_REFERENCE, 1, "-12V"), placed);
        assertEquals(placed, PlacedFault.parse(placed.text()));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "driver-broken | driver-broken | driver-open",
                "driver-open:much | much | 0 to 1",
                "driver-open:1.5 | 1.5 | 0.0 to 1.0",
                "driver-open:NaN | NaN | 0.0 to 1.0",
                "driver-open@ | no rail name | name[:severity][@rail]",
                "low-line@+5V | whole unit | leave out",
            })
    void refusesWithTheValueAndWhatIsAllowed(String text, String found, String allowed) {
        String message = String.valueOf(assertThrows(IllegalArgumentException.class, () -> PlacedFault.parse(text))
                .getMessage());

        assertTrue(message.contains(found) && message.contains(allowed), message);
    }

    @Test
    void refusesARailThatTheUnitDoesNotHave() {
        String message =
                String.valueOf(assertThrows(IllegalArgumentException.class, () -> SimulatedUnits.named("counter-15v")
                                .build(Surroundings.standard(1), List.of(PlacedFault.parse("driver-open@+24V"))))
                        .getMessage());

        assertTrue(message.contains("+24V") && message.contains("+15 V, -15 V"), message);
    }

    @Test
    void aRailIsFoundWithAndWithoutTheBlankInItsName() {
        List<String> names = SimulatedUnits.named("counter-3rail").rails().stream()
                .map(RailDesign::name)
                .toList();

        assertEquals(List.of("+5 V", "+12 V", "-12 V"), names);
        assertEquals(2, PlacedFault.parse("driver-open@-12V").railAmong(names));
        assertEquals(2, PlacedFault.parse("driver-open@-12 V").railAmong(names));
    }

    @Test
    void everyFaultHasItsOwnKebabCaseName() {
        Set<String> labels = new HashSet<>(Fault.labels());

        assertEquals(Fault.values().length, labels.size());
        assertTrue(labels.stream().allMatch(label -> label.matches("[a-z]+(-[a-z]+)*")), labels.toString());
    }

    @ParameterizedTest
    @EnumSource(Fault.class)
    void everyFaultHasAPlaceAndAUsableDefault(Fault fault) {
        PlacedFault placed = PlacedFault.parse(fault.label());

        assertEquals(fault.defaultSeverityRatio(), placed.severityRatio());
        SimulatedUnits.named("bench-12v")
                .build(Surroundings.standard(1), List.of(placed))
                .advanceTo(1e-3);
    }

    @ParameterizedTest
    @CsvSource({
        "driver-open, its pass transistor has no driver",
        "driver-low-gain:0.3, its pass transistor has no driver",
        "sense-resistor-high, nothing limits its current",
        "limit-transistor-short, nothing limits its current",
        "limit-transistor-open, nothing limits its current"
    })
    void aPartThatTheRailDoesNotHaveCannotBeBroken(String fault, String why) {
        UnitDesign lamp = SimulatedUnits.named("tape-6v");
        Surroundings surroundings = Surroundings.standard(1);
        List<PlacedFault> faults = List.of(PlacedFault.parse(fault));

        String message =
                String.valueOf(assertThrows(IllegalArgumentException.class, () -> lamp.build(surroundings, faults))
                        .getMessage());

        assertTrue(message.contains(why) && message.contains("+6 V"), message);
    }
}
