package railproof.judge;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Locale;
import railproof.base.Unit;
import railproof.run.Point;

/** Numbers and points in the words of a check's detail. */
final class Words {
    private static final MathContext FIVE_DIGITS = new MathContext(5);

    private Words() {}

    /** With unit; volts, amperes and ohms below a tenth in thousandths; ratios in percent. */
    static String of(double value, Unit unit) {
        if (unit == Unit.RATIO) {
            return plain(100 * value) + " %";
        }
        boolean milli = Math.abs(value) < 0.1 && value != 0 && unit != Unit.CELSIUS && unit != Unit.HERTZ;
        return milli ? plain(1000 * value) + " m" + unit.symbol() : plain(value) + " " + unit.symbol();
    }

    /** The load and line a point was taken at. */
    static String at(Point point) {
        String load = "off".equals(point.asked().mode())
                ? "no load"
                : point.asked().mode() + " "
                        + of(point.asked().level(), levelUnit(point.asked().mode()));
        String unsettled = point.settled() ? "" : " (not settled)";
        return String.format(
                Locale.ROOT, "%s, line %s%s", load, of(point.asked().lineV(), Unit.VOLT), unsettled);
    }

    private static Unit levelUnit(String mode) {
        return switch (mode) {
            case "CV" -> Unit.VOLT;
            case "CR" -> Unit.OHM;
            default -> Unit.AMPERE;
        };
    }

    private static String plain(double value) {
        BigDecimal rounded = new BigDecimal(value).round(FIVE_DIGITS);
        return rounded.signum() == 0 ? "0" : rounded.stripTrailingZeros().toPlainString();
    }
}
