package railproof.ui;

import java.math.BigDecimal;
import java.math.MathContext;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.report.Quantities;

/** Numbers to be glanced at: four digits. The digits that count are in the record. Pure. */
final class Glances {
    private static final int DIGITS = 4;
    private static final MathContext ROUNDING = new MathContext(DIGITS);

    private Glances() {}

    /** A value with its unit; a dash if it is missing. */
    static String of(Reading reading) {
        return reading.measured().map(m -> read(m.value(), m.unit())).orElse("–");
    }

    /** What was read: all four digits, so that a display stands still while it changes. */
    static String read(double value, Unit unit) {
        return Quantities.digits(value, DIGITS, unit);
    }

    /** What was set or drawn: no more digits than it has. */
    static String rounded(double value, Unit unit) {
        return Quantities.plain(new BigDecimal(value).round(ROUNDING).doubleValue(), unit);
    }
}
