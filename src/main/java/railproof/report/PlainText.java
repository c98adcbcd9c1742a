package railproof.report;

/** Makes text from a record harmless to show: it was typed by somebody, or changed by somebody. */
final class PlainText {
    private static final char REPLACEMENT = '\uFFFD';

    private PlainText() {}

    /**
     * The text on one line, without control characters, unpaired surrogates, and the marks that turn the reading
     * direction: none of them can move a terminal's cursor, break a page, or make a serial read as another one.
     */
    static String line(String text) {
        StringBuilder safe = new StringBuilder();
        text.replace("\r\n", "\n").codePoints().forEach(point -> {
            if (point == '\n' || point == '\r' || point == '\t') {
                safe.append(' ');
            } else if (unfit(point)) {
                safe.append(REPLACEMENT);
            } else {
                safe.appendCodePoint(point);
            }
        });
        return safe.toString();
    }

    /** The same for HTML and XML, elements and quoted attributes alike. */
    static String escaped(String text) {
        StringBuilder safe = new StringBuilder();
        line(text).codePoints().forEach(point -> {
            switch (point) {
                case '&' -> safe.append("&amp;");
                case '<' -> safe.append("&lt;");
                case '>' -> safe.append("&gt;");
                case '"' -> safe.append("&#34;");
                case '\'' -> safe.append("&#39;");
                default -> safe.appendCodePoint(point);
            }
        });
        return safe.toString();
    }

    private static boolean unfit(int point) {
        boolean direction = (point >= 0x202A && point <= 0x202E) || (point >= 0x2066 && point <= 0x2069);
        boolean lineEnd = point == 0x2028 || point == 0x2029;
        boolean unpaired = point >= 0xD800 && point <= 0xDFFF;
        boolean notXml = point == 0xFFFE || point == 0xFFFF;
        return Character.isISOControl(point) || direction || lineEnd || unpaired || notXml;
    }
}
