package railproof.wire;

import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Numbers in replies: NR1, NR2 and NR3 (IEEE 488.2, 8.7.2 to 8.7.4). The values 9.9E37, -9.9E37 and 9.91E37 stand for
 * infinities and "not a number" (SCPI-1999 volume 1, 7.2.1) and never become data.
 *
 * <p>Thread: pure; any.
 */
final class ScpiNumber {
    private static final double NO_NUMBER_FROM_DIMENSIONLESS = 9.9e37;
    private static final Pattern FORM =
            Pattern.compile("([+-]?\\s?(?:\\d+(?:\\.\\d*)?|\\.\\d+)(?:[eE][+-]?\\d{1,4})?)\\s*([A-Za-z%]*)");

    private ScpiNumber() {}

    /**
     * Reads a number.
     *
     * @param unit unit letters tolerated after it, without prefix; anything else ("mV" for "V") is no number, because
     *     guessing a prefix is guessing a factor of a thousand
     * @return nothing if the text is not a number at all; an empty number if the device says it has none
     */
    static Optional<OptionalDouble> parse(String text, String unit) {
        String upper = text.toUpperCase(Locale.ROOT);
        if (upper.equals("NAN") || upper.equals("INF") || upper.equals("NINF") || upper.equals("-INF")) {
            return Optional.of(OptionalDouble.empty());
        }
        Matcher form = FORM.matcher(text);
        if (!form.matches()) {
            return Optional.empty();
        }
        String suffix = form.group(2);
        if (!suffix.isEmpty() && !suffix.equalsIgnoreCase(unit)) {
            return Optional.empty();
        }
        double value = Double.parseDouble(form.group(1).replaceAll("\\s", ""));
        return Optional.of(
                Math.abs(value) >= NO_NUMBER_FROM_DIMENSIONLESS ? OptionalDouble.empty() : OptionalDouble.of(value));
    }
}
