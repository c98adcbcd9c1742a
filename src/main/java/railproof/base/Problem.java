package railproof.base;

/**
 * One thing wrong with a file, said so that its author can mend it without help.
 *
 * @param file the file as the user named it
 * @param line 1-based line, 0 when the whole file is meant
 * @param column 1-based column, 0 when the whole line is meant
 * @param key the setting meant, dotted ({@code rails[1].nominal_V}); empty when none
 * @param message what is wrong, with the value found and what is allowed
 */
public record Problem(String file, int line, int column, String key, String message) {
    private static final int LONGEST_KEY = 200;
    private static final int LONGEST_TEXT = 1000;

    /**
     * One line: {@code file:line:column: key: message}, leaving out what is not known. Fit to be shown whatever the file
     * holds.
     */
    public String text() {
        StringBuilder text = new StringBuilder(Shown.of(file, LONGEST_TEXT));
        if (line > 0) {
            text.append(':').append(line);
            if (column > 0) {
                text.append(':').append(column);
            }
        }
        text.append(": ");
        if (!key.isEmpty()) {
            text.append(Shown.of(key, LONGEST_KEY)).append(": ");
        }
        return text.append(Shown.of(message, LONGEST_TEXT)).toString();
    }
}
