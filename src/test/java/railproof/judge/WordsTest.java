package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.Unit;

class WordsTest {
    @ParameterizedTest
    @CsvSource({
        "12.1343, VOLT, 12.134 V",
        "0.0123456, VOLT, 12.346 mV",
        "-0.05, AMPERE, -50 mA",
        "0, VOLT, 0 V",
        "230, VOLT, 230 V",
        "100000, OHM, 100000 Ω",
        "0.0028844569, RATIO, 0.28845 %",
        "49.98765, HERTZ, 49.988 Hz",
        "0.05, CELSIUS, 0.05 °C"
    })
    void numbersCarryTheirUnit(double value, Unit unit, String words) {
        assertEquals(words, Words.of(value, unit));
    }
}
