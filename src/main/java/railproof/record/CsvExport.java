package railproof.record;

import java.util.ArrayList;
import java.util.List;

/**
 * Tables for spreadsheets and other programs: RFC 4180, numbers bit for bit, text that a spreadsheet could take for a
 * formula behind an apostrophe.
 */
public final class CsvExport {
    private final int columns;
    private final StringBuilder out = new StringBuilder();

    /** A table with that heading. */
    public CsvExport(List<String> heading) {
        columns = heading.size();
        out.append(Cells.line(heading));
    }

    /** Adds a row: text is guarded, numbers are written exactly; an empty optional makes an empty cell. */
    public CsvExport row(List<?> cells) {
        if (cells.size() != columns) {
            throw new IllegalArgumentException("the row has " + cells.size() + " cells, the heading " + columns);
        }
        List<String> texts = new ArrayList<>();
        cells.forEach(cell -> texts.add(text(cell)));
        out.append(Cells.line(texts));
        return this;
    }

    private static String text(Object cell) {
        if (cell instanceof java.util.Optional<?> optional) {
            return optional.isPresent() ? text(optional.get()) : "";
        }
        if (cell instanceof Double number) {
            return Double.isFinite(number) ? Cells.number(number) : "";
        }
        return cell instanceof Number || cell instanceof Boolean ? cell.toString() : Cells.text(cell.toString());
    }

    @Override
    public String toString() {
        return out.toString();
    }
}
