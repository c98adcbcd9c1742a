package railproof.wire;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ScpiNumberTest {
    /** NR1, NR2, NR3 of IEEE 488.2, 8.7.2 to 8.7.4; the rest is tolerance towards real devices. */
    @ParameterizedTest
    @CsvSource({
        "-12, -12",
        "1.25, 1.25",
        "+1.25E+00, 1.25",
        "1.25E-3, 0.00125",
        ".5, 0.5",
        "5., 5",
        "- 3.2, -3.2",
        "1.234A, 1.234",
        "1.234 a, 1.234",
        "0.0, 0"
    })
    void readsNumbers(String text, double value) {
        assertEquals(Optional.of(OptionalDouble.of(value)), ScpiNumber.parse(text, "A"));
    }

    /** SCPI-1999 volume 1, 7.2.1.4 and 7.2.1.5 (section numbers from memory): infinities and "not a number". */
    @ParameterizedTest
    @ValueSource(strings = {"9.9E37", "-9.9E37", "+9.91E+37", "9.91000E+037", "1E400", "NAN", "INF", "NINF", "-inf"})
    void neverMakesDataOfASpecialValue(String text) {
        assertEquals(Optional.of(OptionalDouble.empty()), ScpiNumber.parse(text, "A"));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "", "-", ".", "1.2.3", "1,2", "1E", "1E+", "--1", "0x1F", "1.2mA", "1.2V", "ON", "1.0 2.0", "1.2A3",
                "----", "1_000", "١", "1e99999"
            })
    void refusesWhatIsNoNumber(String text) {
        assertEquals(Optional.empty(), ScpiNumber.parse(text, "A"));
    }
}
