package railproof.base;

import java.util.Locale;

/**
 * Text from outside as it is shown to people: short, on one line, and unable to move a terminal's cursor, turn its writing
 * or hide anything.
 */
public final class Shown {
    private Shown() {}

    /**
     * The text with control, formatting and half characters written out as {@code \}{@code uXXXX}.
     *
     * @param longest characters shown; what is cut off is told by an ellipsis
     */
    public static String of(String text, int longest) {
        StringBuilder out = new StringBuilder();
        int end = Math.min(text.length(), longest);
        for (int i = 0; i < end; i++) {
            char letter = text.charAt(i);
            if (letter == '\n') {
                out.append("\\n");
            } else if (Character.isISOControl(letter) || half(text, i) || formatting(letter)) {
                out.append(String.format(Locale.ROOT, "\\u%04x", (int) letter));
            } else {
                out.append(letter);
            }
        }
        return end < text.length() ? out + "…" : out.toString();
    }

    /** Half of a character beyond the basic plane, without its other half. */
    private static boolean half(String text, int at) {
        char letter = text.charAt(at);
        if (Character.isHighSurrogate(letter)) {
            return at + 1 >= text.length() || !Character.isLowSurrogate(text.charAt(at + 1));
        }
        return Character.isLowSurrogate(letter) && (at == 0 || !Character.isHighSurrogate(text.charAt(at - 1)));
    }

    /** Invisible letters that turn or hide text on a terminal. */
    private static boolean formatting(char letter) {
        int type = Character.getType(letter);
        return type == Character.FORMAT || type == Character.LINE_SEPARATOR || type == Character.PARAGRAPH_SEPARATOR;
    }
}
