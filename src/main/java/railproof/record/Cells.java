package railproof.record;

import java.util.List;
import org.apache.commons.csv.CSVFormat;

/** How values become cells of a CSV file: RFC 4180, CRLF, numbers exact, text harmless to spreadsheets. */
final class Cells {
    // the characters that make spreadsheets evaluate a cell, their full-width twins, and the guard itself
    private static final String GUARDED = "=+-@'\t\r\n＝＋－＠";
    private static final char GUARD = '\'';

    private Cells() {}

    /** One record with its CRLF. */
    static String line(List<String> cells) {
        return CSVFormat.RFC4180.format(cells.toArray()) + "\r\n";
    }

    /** A number that reads back bit for bit; Java's shortest form, e.g. {@code 1.0E-4}. */
    static String number(double value) {
        return Double.toString(value);
    }

    /** A number that must be finite. */
    static String finite(String what, double value) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(what + " must be finite, got " + value);
        }
        return number(value);
    }

    /** Text, with an apostrophe in front if a spreadsheet could take it for a formula, or if it starts with one. */
    static String text(String text) {
        int first = 0;
        // some spreadsheets skip blanks, control characters and invisible ones before deciding
        while (first < text.length() && skipped(text.charAt(first))) {
            first++;
        }
        boolean risky = (first < text.length() && GUARDED.indexOf(text.charAt(first)) >= 0)
                || (!text.isEmpty() && GUARDED.indexOf(text.charAt(0)) >= 0);
        return risky ? GUARD + text : text;
    }

    private static boolean skipped(char letter) {
        return letter <= ' '
                || Character.isWhitespace(letter)
                || Character.isSpaceChar(letter)
                || Character.isISOControl(letter)
                || Character.getType(letter) == Character.FORMAT;
    }

    /** Takes back {@link #text}. */
    static String unguarded(String cell) {
        return !cell.isEmpty() && cell.charAt(0) == GUARD ? cell.substring(1) : cell;
    }
}
