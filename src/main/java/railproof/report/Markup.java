package railproof.report;

/** HTML being put together. Thread: one. */
final class Markup {
    private static final String GAP = "{}";

    private final StringBuilder out = new StringBuilder();

    /**
     * Adds markup; each {@code {}} in it is filled with the next text, escaped.
     *
     * @param markup written in this program, never from a record
     * @param texts as many as there are gaps
     */
    Markup add(String markup, String... texts) {
        int from = 0;
        for (String text : texts) {
            int gap = markup.indexOf(GAP, from);
            if (gap < 0) {
                throw new IllegalArgumentException("more texts than gaps: " + markup);
            }
            out.append(markup, from, gap).append(PlainText.escaped(text));
            from = gap + GAP.length();
        }
        if (markup.indexOf(GAP, from) >= 0) {
            throw new IllegalArgumentException("more gaps than texts: " + markup);
        }
        out.append(markup, from, markup.length()).append('\n');
        return this;
    }

    /** Adds what another one put together. */
    Markup add(Markup other) {
        out.append(other.out);
        return this;
    }

    @Override
    public String toString() {
        return out.toString();
    }
}
