package railproof.report;

import java.util.ArrayList;
import java.util.List;

/** A table of fixed-width columns for a terminal; long cells go on in the next line. Widths count code points. */
final class TextTable {
    private static final String GAP = " ";

    private final List<Integer> widths;
    private final StringBuilder out = new StringBuilder();

    TextTable(List<Integer> widths) {
        this.widths = List.copyOf(widths);
    }

    /** One row; a cell may hold several lines. */
    TextTable row(List<String> cells) {
        List<List<String>> wrapped = new ArrayList<>();
        int height = 0;
        for (int i = 0; i < widths.size(); i++) {
            List<String> lines = wrapped(cells.get(i), widths.get(i));
            wrapped.add(lines);
            height = Math.max(height, lines.size());
        }
        for (int line = 0; line < height; line++) {
            StringBuilder text = new StringBuilder();
            for (int i = 0; i < widths.size(); i++) {
                String part = line < wrapped.get(i).size() ? wrapped.get(i).get(line) : "";
                text.append(part);
                text.append(GAP.repeat(widths.get(i) - length(part) + 1));
            }
            out.append(text.toString().stripTrailing()).append('\n');
        }
        return this;
    }

    /** A line across. */
    TextTable rule() {
        int width = widths.stream().mapToInt(w -> w + 1).sum() - 1;
        out.append("─".repeat(width)).append('\n');
        return this;
    }

    /** Text over the whole width, indented. */
    TextTable remark(int indent, String text) {
        int width = widths.stream().mapToInt(w -> w + 1).sum() - 1 - indent;
        wrapped(text, width)
                .forEach(line -> out.append(" ".repeat(indent)).append(line).append('\n'));
        return this;
    }

    private static List<String> wrapped(String cell, int width) {
        List<String> lines = new ArrayList<>();
        for (String line : cell.split("\n", -1)) {
            String rest = PlainText.line(line).strip();
            while (length(rest) > width) {
                int hard = rest.offsetByCodePoints(0, width);
                int space = rest.lastIndexOf(' ', hard);
                int cut = space > 0 ? space : hard;
                lines.add(rest.substring(0, cut).stripTrailing());
                rest = rest.substring(cut).strip();
            }
            lines.add(rest);
        }
        return lines;
    }

    private static int length(String text) {
        return text.codePointCount(0, text.length());
    }

    @Override
    public String toString() {
        return out.toString();
    }
}
