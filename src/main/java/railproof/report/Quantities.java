package railproof.report;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.profile.Band;

/**
 * Numbers as people read them: engineering prefixes, ratios in percent, values rounded to the second significant digit
 * of their expanded uncertainty (GUM 7.2.6). Only display goes through here; files keep all digits.
 */
public final class Quantities {
    private static final MathContext TWO_DIGITS = new MathContext(2, RoundingMode.HALF_UP);
    private static final MathContext SIX_DIGITS = new MathContext(6, RoundingMode.HALF_UP);
    private static final String[] PREFIXES = {"p", "n", "µ", "m", "", "k", "M", "G"};
    private static final int FIRST_EXPONENT = -12;
    private static final int LAST_EXPONENT = 9;

    private Quantities() {}

    /** A reading with its expanded uncertainty, {@code 4.985 ± 0.012 V}; the reason if it is missing. */
    public static String text(Reading reading, double expandedU) {
        if (reading instanceof Missing missing) {
            return missing.reason();
        }
        return reading.measured()
                .map(m -> withUncertainty(m.value(), expandedU, m.unit()))
                .orElse("");
    }

    /**
     * A value with its expanded uncertainty, both with the same prefix.
     *
     * @param expandedU U in the unit; 0 if it is not known, then six digits are shown
     */
    public static String withUncertainty(double value, double expandedU, Unit unit) {
        if (!(expandedU > 0) || Double.isInfinite(expandedU)) {
            return plain(value, unit);
        }
        BigDecimal u = BigDecimal.valueOf(expandedU).round(TWO_DIGITS);
        BigDecimal rounded = BigDecimal.valueOf(value).setScale(u.scale(), RoundingMode.HALF_UP);
        Scale scale = Scale.of(rounded.abs().max(u), unit);
        int decimals = Math.max(0, u.scale() + scale.exponent());
        return withUnit(
                scale.apply(rounded).setScale(decimals).toPlainString() + " ± "
                        + scale.apply(u).setScale(decimals).toPlainString(),
                scale.symbol());
    }

    /** A number known by itself, such as a limit or a setting: up to six digits, no trailing zeros. */
    public static String plain(double value, Unit unit) {
        if (!Double.isFinite(value)) {
            return value > 0 ? "∞" : value < 0 ? "−∞" : "?";
        }
        BigDecimal rounded = BigDecimal.valueOf(value).round(SIX_DIGITS);
        Scale scale = Scale.of(rounded.abs(), unit);
        return withUnit(trimmed(scale.apply(rounded)), scale.symbol());
    }

    /** A number as a display shows it, always that many digits, so that it stands still while it changes. */
    public static String digits(double value, int digits, Unit unit) {
        if (!Double.isFinite(value) || value == 0) {
            return plain(value, unit);
        }
        MathContext context = new MathContext(digits, RoundingMode.HALF_UP);
        BigDecimal rounded = new BigDecimal(value).round(context);
        Scale scale = Scale.of(rounded.abs(), unit);
        return withUnit(scale.apply(rounded).toPlainString(), scale.symbol());
    }

    /** A limit: {@code 4.75 … 5.25 V}, {@code ≤ 50 mV}, {@code ≥ 1 A}, or {@code none}. */
    public static String limit(Band band, Unit unit) {
        boolean lowOpen = Double.isInfinite(band.low());
        boolean highOpen = Double.isInfinite(band.high());
        if (lowOpen && highOpen) {
            return "none";
        }
        if (lowOpen || highOpen) {
            return lowOpen ? "≤ " + plain(band.high(), unit) : "≥ " + plain(band.low(), unit);
        }
        BigDecimal low = BigDecimal.valueOf(band.low()).round(SIX_DIGITS);
        BigDecimal high = BigDecimal.valueOf(band.high()).round(SIX_DIGITS);
        Scale scale = Scale.of(low.abs().max(high.abs()), unit);
        return withUnit(trimmed(scale.apply(low)) + " … " + trimmed(scale.apply(high)), scale.symbol());
    }

    private static String trimmed(BigDecimal number) {
        return number.signum() == 0 ? "0" : number.stripTrailingZeros().toPlainString();
    }

    private static String withUnit(String number, String symbol) {
        return symbol.isEmpty() ? number : number + " " + symbol;
    }

    /**
     * A power of ten and what to call the unit then.
     *
     * @param exponent the power of ten the number is divided by
     * @param symbol prefix and unit
     */
    record Scale(int exponent, String symbol) {
        /** The scale in which numbers up to that magnitude are read best. */
        static Scale of(BigDecimal magnitude, Unit unit) {
            if (unit == Unit.RATIO) {
                return new Scale(-2, "%");
            }
            if (unit == Unit.CELSIUS || unit == Unit.DECIBEL || unit == Unit.COUNT || magnitude.signum() == 0) {
                return new Scale(0, unit.symbol());
            }
            // exact, where a logarithm would be a bit off at powers of ten
            int decade = magnitude.precision() - magnitude.scale() - 1;
            int exponent = Math.max(FIRST_EXPONENT, Math.min(LAST_EXPONENT, Math.floorDiv(decade, 3) * 3));
            return new Scale(exponent, PREFIXES[(exponent - FIRST_EXPONENT) / 3] + unit.symbol());
        }

        BigDecimal apply(BigDecimal number) {
            return number.scaleByPowerOfTen(-exponent);
        }
    }
}
