package railproof.sim.device;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The parameters of one program message unit: numbers with or without suffix (IEEE 488.2, 7.7.2 to 7.7.4), MINimum and MAXimum (SCPI-1999 volume 1, 7.2.1.2, from memory), booleans, words.
 */
final class ScpiParameters {
    private static final Pattern NUMBER =
            Pattern.compile("([+-]?(?:\\d+(?:\\.\\d*)?|\\.\\d+)(?:\\s*[eE]\\s*[+-]?\\d{1,5})?)\\s*([A-Za-z/%]*)");
    private static final Pattern NON_DECIMAL = Pattern.compile("#(?:H([0-9A-F]{1,7})|Q([0-7]{1,9})|B([01]{1,30}))");
    private static final Map<String, Double> PREFIXES = Map.of("", 1.0, "U", 1e-6, "M", 1e-3, "K", 1e3);

    private final List<String> values;

    ScpiParameters(List<String> values) {
        this.values = List.copyOf(values);
    }

    /** What a number may be. */
    record Range(double minDimensionless, double maxDimensionless, String unit) {}

    boolean none() {
        return values.isEmpty();
    }

    void expectNone() throws ScpiRefusal {
        if (!values.isEmpty()) {
            throw new ScpiRefusal(-108, "Parameter not allowed");
        }
    }

    String only() throws ScpiRefusal {
        if (values.isEmpty()) {
            throw new ScpiRefusal(-109, "Missing parameter");
        }
        if (values.size() > 1) {
            throw new ScpiRefusal(-108, "Parameter not allowed");
        }
        return values.get(0);
    }

    /** The one number, inside the range, in the range's unit. */
    double number(Range range) throws ScpiRefusal {
        String text = only();
        switch (text.toUpperCase(Locale.ROOT)) {
            case "MIN", "MINIMUM" -> {
                return range.minDimensionless();
            }
            case "MAX", "MAXIMUM" -> {
                return range.maxDimensionless();
            }
            default -> {
                double value = decimal(text, range.unit());
                if (value < range.minDimensionless() || value > range.maxDimensionless()) {
                    throw new ScpiRefusal(-222, "Data out of range");
                }
                return value;
            }
        }
    }

    private static double decimal(String text, String unit) throws ScpiRefusal {
        if (text.startsWith("#")) {
            return nonDecimal(text);
        }
        Matcher matcher = NUMBER.matcher(text);
        if (!matcher.matches()) {
            throw new ScpiRefusal(-104, "Data type error");
        }
        double value = Double.parseDouble(matcher.group(1).replaceAll("\\s", ""));
        String suffix = matcher.group(2).toUpperCase(Locale.ROOT);
        if (suffix.isEmpty()) {
            return value;
        }
        if (unit.isEmpty()) {
            throw new ScpiRefusal(-138, "Suffix not allowed");
        }
        if (!suffix.endsWith(unit)) {
            throw new ScpiRefusal(-131, "Invalid suffix");
        }
        String prefix = suffix.substring(0, suffix.length() - unit.length());
        if (prefix.equals("M") && (unit.equals("OHM") || unit.equals("HZ"))) {
            return value * 1e6; // 488.2 table 7-2: MOHM and MHZ are mega, all other M are milli
        }
        Double factor = PREFIXES.get(prefix);
        if (factor == null) {
            throw new ScpiRefusal(-131, "Invalid suffix");
        }
        return value * factor;
    }

    /** #H, #Q and #B numbers (IEEE 488.2, 7.7.4). */
    private static double nonDecimal(String text) throws ScpiRefusal {
        Matcher matcher = NON_DECIMAL.matcher(text.toUpperCase(Locale.ROOT));
        if (!matcher.matches()) {
            throw new ScpiRefusal(-104, "Data type error");
        }
        if (matcher.group(1) != null) {
            return Integer.parseInt(matcher.group(1), 16);
        }
        return matcher.group(2) != null ? Integer.parseInt(matcher.group(2), 8) : Integer.parseInt(matcher.group(3), 2);
    }

    boolean onOff() throws ScpiRefusal {
        String text = only().toUpperCase(Locale.ROOT);
        if (text.equals("ON") || text.equals("OFF")) {
            return text.equals("ON");
        }
        return Math.rint(decimal(text, "")) != 0;
    }

    int mask(int max) throws ScpiRefusal {
        return (int) Math.rint(number(new Range(0, max, "")));
    }
}
