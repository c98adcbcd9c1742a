package railproof.ui;

import java.math.BigDecimal;
import java.math.MathContext;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.report.Quantities;

/** Numbers to be glanced at: four digits. The digits that count are in the record. Pure. */
final class Glances {
    private static final MathContext DIGITS = new MathContext(4);

    private Glances() {}

    /** A value with its unit; a dash if it is missing. */
    static String of(Reading reading) {
        return reading.measured().map(m -> rounded(m.value(), m.unit())).orElse("–");
    }

    static String rounded(double value, Unit unit) {
        return Quantities.plain(new BigDecimal(value).round(DIGITS).doubleValue(), unit);
    }
}
