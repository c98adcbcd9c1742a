package railproof.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.math.BigDecimal;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.Missing;
import railproof.base.Unit;
import railproof.profile.Band;

class QuantitiesTest {
    @Test
    void aValueIsRoundedToItsUncertaintyAsTheGumSays() {
        // GUM 7.2.6: "if y = 10,057 62 Ω with u = 27 mΩ, y should be rounded to 10,058 Ω"
        assertEquals("10.058 ± 0.027 Ω", Quantities.withUncertainty(10.05762, 0.027, Unit.OHM));
        // GUM 7.2.6: 28.05 kHz as an uncertainty may be rounded down to 28 kHz
        assertEquals("1.000 ± 0.028 MHz", Quantities.withUncertainty(1e6, 28.05e3, Unit.HERTZ));
    }

    @ParameterizedTest
    @CsvSource({
        "0.0402, 0.0031, VOLT, 40.2 ± 3.1 mV",
        "-12.16911, 0.0091, VOLT, -12.1691 ± 0.0091 V",
        "0.0029, 0.00047, RATIO, 0.290 ± 0.047 %",
        "4.9996, 0.0996, VOLT, 5.00 ± 0.10 V",
        "0.9999, 0.12, AMPERE, 1.00 ± 0.12 A",
        "0.0, 0.0012, VOLT, 0.0 ± 1.2 mV",
        "0.5, 3.2, VOLT, 0.5 ± 3.2 V",
        "3.0, 1234.0, VOLT, 0.0 ± 1.2 kV",
        "41.234, 1.0, CELSIUS, 41.2 ± 1.0 °C",
        "4.7e-3, 123e-6, FARAD, 4.70 ± 0.12 mF",
        "5.0, 0.0, VOLT, 5 V",
    })
    void valueAndUncertaintyShareTheirPrefixAndLastDigit(double value, double u, Unit unit, String expected) {
        assertEquals(expected, Quantities.withUncertainty(value, u, unit));
    }

    @ParameterizedTest
    @CsvSource({
        "0, VOLT, 0 V",
        "0.05, VOLT, 50 mV",
        "4.75, VOLT, 4.75 V",
        "999.9999, VOLT, 1 kV",
        "0.005, RATIO, 0.5 %",
        "1e-15, FARAD, 0.001 pF",
        "115, VOLT, 115 V",
        "-5, VOLT, -5 V",
        "0.1, AMPERE, 100 mA"
    })
    void plainNumbersHaveNoTrailingZeros(double value, Unit unit, String expected) {
        assertEquals(expected, Quantities.plain(value, unit));
    }

    @Test
    void limitsShowTheirOpenEnds() {
        assertEquals("4.75 … 5.25 V", Quantities.limit(new Band(4.75, 5.25), Unit.VOLT));
        assertEquals("≤ 50 mV", Quantities.limit(Band.atMost(0.05), Unit.VOLT));
        assertEquals("≥ 1 A", Quantities.limit(Band.atLeast(1), Unit.AMPERE));
        assertEquals("-5.25 … -4.75 V", Quantities.limit(new Band(-5.25, -4.75), Unit.VOLT));
        assertEquals("why", Quantities.text(new Missing("why"), 0));
    }

    @Test
    void whatIsShownIsNeverFurtherOffThanHalfTheLastDigitOfTheUncertainty() {
        long seed = 11;
        Random random = new Random(seed);
        for (int i = 0; i < 2000; i++) {
            double value = random.nextGaussian() * Math.pow(10, random.nextInt(9) - 5);
            double u = Math.abs(value) * Math.pow(10, -4 * random.nextDouble());
            String text = Quantities.withUncertainty(value, u, Unit.CELSIUS);
            String[] parts = text.split(" ", -1);
            BigDecimal shown = new BigDecimal(parts[0]);
            BigDecimal shownU = new BigDecimal(parts[2]);
            // two significant digits: the last one is at least a hundredth and at most a tenth of U
            assertTrue(Math.abs(shown.doubleValue() - value) <= 0.0501 * u, "seed " + seed + ": " + value + " " + text);
            assertTrue(Math.abs(shownU.doubleValue() - u) <= 0.0501 * u, "seed " + seed + ": " + u + " " + text);
        }
    }
}
