package railproof.toml;

import java.math.BigDecimal;
import java.util.List;
import java.util.stream.Collectors;
import org.tomlj.TomlArray;
import org.tomlj.TomlTable;
import railproof.base.Shown;

/** How values and names are shown in messages: short, on one line, without control characters. */
final class Wording {
    private static final int LONGEST_SHOWN = 60;
    private static final int LONGEST_MESSAGE = 300;

    private Wording() {}

    /** What the file holds, in words: {@code the text "abc"}, {@code the number 3}. */
    static String found(Object value) {
        if (value instanceof String text) {
            return "the text " + quoted(text);
        }
        if (value instanceof Long || value instanceof Double) {
            return "the number " + shown(String.valueOf(value), LONGEST_SHOWN);
        }
        if (value instanceof Boolean) {
            return value.toString();
        }
        if (value instanceof TomlArray array) {
            return "a list of " + array.size();
        }
        if (value instanceof TomlTable) {
            return "a table";
        }
        return "the date or time " + shown(String.valueOf(value), LONGEST_SHOWN);
    }

    static String quoted(String text) {
        return '"' + shown(text, LONGEST_SHOWN) + '"';
    }

    static String message(String text) {
        return shown(text, LONGEST_MESSAGE);
    }

    /** A number as a person writes it: 0.5, 1000, 1e-6. */
    static String number(double value) {
        double size = Math.abs(value);
        if (value == Math.rint(value) && size < 1e9) {
            return String.valueOf((long) value);
        }
        if (size >= 1e-4 && size < 1e9) {
            return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
        }
        return String.valueOf(value).replace(".0E", "e").replace('E', 'e');
    }

    static String list(List<String> names) {
        return names.stream().map(name -> shown(name, LONGEST_SHOWN)).collect(Collectors.joining(", "));
    }

    /** A key as it is written in TOML, shortened. */
    static String key(String key) {
        boolean bare = !key.isEmpty() && key.chars().allMatch(Wording::bareKeyLetter);
        return bare ? shown(key, LONGEST_SHOWN) : quoted(key);
    }

    private static boolean bareKeyLetter(int letter) {
        return letter < 128 && (Character.isLetterOrDigit(letter) || letter == '_' || letter == '-');
    }

    private static String shown(String text, int longest) {
        return Shown.of(text, longest);
    }
}
