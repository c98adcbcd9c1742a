package railproof.toml;

import java.util.Optional;

/** What single values must keep to. */
final class ScalarRules {
    private ScalarRules() {}

    /** A finite number in the range; whole numbers count. */
    static Optional<Double> number(Object value, double low, double high) {
        double number = value instanceof Long whole
                ? whole.doubleValue()
                : value instanceof Double decimal ? decimal.doubleValue() : Double.NaN;
        return number >= low && number <= high ? Optional.of(number) : Optional.empty();
    }

    /** A whole number in the range. */
    static Optional<Integer> integer(Object value, int low, int high) {
        return value instanceof Long whole && whole >= low && whole <= high
                ? Optional.of(whole.intValue())
                : Optional.empty();
    }

    /** What is wrong with a text; empty if nothing is. */
    static String wrongText(String text, int longest) {
        if (text.length() > longest) {
            return "text of " + text.length() + " characters; at most " + longest;
        }
        return text.chars().anyMatch(Character::isISOControl)
                ? "must be one line without control characters; found " + Wording.quoted(text)
                : "";
    }

    /** Length of the unit a key ends in, ns. */
    static double unitNs(String key) {
        return switch (key.substring(key.lastIndexOf('_') + 1)) {
            case "us" -> 1e3;
            case "ms" -> 1e6;
            case "s" -> 1e9;
            case "min" -> 60e9;
            case "h" -> 3600e9;
            default -> throw new IllegalArgumentException("no unit of time at the end of " + key);
        };
    }
}
