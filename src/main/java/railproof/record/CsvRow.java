package railproof.record;

import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.regex.Pattern;
import railproof.base.Problem;
import railproof.record.CsvText.Cell;

/**
 * A row of a CSV file being read, cells by heading. Every getter answers something usable; what was wrong is added to
 * the problems with its place.
 */
final class CsvRow {
    private static final Pattern NUMBER = Pattern.compile("-?(\\d+(\\.\\d*)?|\\.\\d+)([eE][+-]?\\d{1,4})?|-?Infinity");
    private static final Pattern COUNT = Pattern.compile("\\d{1,9}");

    private final String file;
    private final Cell first;
    private final Map<String, Cell> cells;
    private final List<Problem> problems;

    private CsvRow(String file, Cell first, Map<String, Cell> cells, List<Problem> problems) {
        this.file = file;
        this.first = first;
        this.cells = cells;
        this.problems = problems;
    }

    /**
     * Takes a file's records, the heading first, and hands on the rows below it. Columns may stand in any order and may
     * be absent; one that is unknown, doubled, or a row of another length is a problem.
     */
    static final class Rows implements Consumer<List<Cell>> {
        private final String file;
        private final List<String> known;
        private final List<Problem> problems;
        private final Consumer<CsvRow> sink;
        private List<Cell> heading = List.of();

        /** Knows the headings that may occur. */
        Rows(String file, List<String> known, List<Problem> problems, Consumer<CsvRow> sink) {
            this.file = file;
            this.known = known;
            this.problems = problems;
            this.sink = sink;
        }

        @Override
        public void accept(List<Cell> row) {
            if (heading.isEmpty()) {
                heading = row;
                checkHeading();
            } else if (row.size() == heading.size()) {
                Map<String, Cell> cells = new HashMap<>();
                for (int i = 0; i < row.size(); i++) {
                    cells.put(heading.get(i).text(), row.get(i));
                }
                sink.accept(new CsvRow(file, row.get(0), cells, problems));
            } else {
                problems.add(problem(
                        file, row.get(0), "", "the row has " + row.size() + " cells, the heading " + heading.size()));
            }
        }

        private void checkHeading() {
            Set<String> seen = new HashSet<>();
            for (Cell cell : heading) {
                if (!known.contains(cell.text())) {
                    problems.add(problem(
                            file,
                            cell,
                            "",
                            "unknown column \"" + cell.text()
                                    + "\"; the file may come from a later version of this program"));
                } else if (!seen.add(cell.text())) {
                    problems.add(problem(file, cell, cell.text(), "the column stands twice"));
                }
            }
        }
    }

    /** Whether the cell holds anything. */
    boolean has(String column) {
        Cell cell = cells.get(column);
        return cell != null && !cell.text().isEmpty();
    }

    String text(String column) {
        return Cells.unguarded(raw(column));
    }

    boolean flag(String column) {
        String text = raw(column);
        if (!text.equals("true") && !text.equals("false")) {
            bad(column, "must be true or false, found \"" + text + "\"");
        }
        return text.equals("true");
    }

    int count(String column) {
        String text = raw(column);
        if (COUNT.matcher(text).matches()) {
            return Integer.parseInt(text);
        }
        bad(column, "must be a whole number from 0 on, found \"" + text + "\"");
        return 0;
    }

    /** A number, possibly infinite. */
    double number(String column) {
        String text = raw(column);
        if (NUMBER.matcher(text).matches()) {
            return Double.parseDouble(text);
        }
        bad(column, "must be a number such as 4.985 or 1.0E-4, found \"" + text + "\"");
        return 1;
    }

    double finite(String column) {
        double number = number(column);
        if (Double.isInfinite(number)) {
            bad(column, "must be finite, found \"" + raw(column) + "\"");
            return 1;
        }
        return number;
    }

    <T> T parsed(String column, Function<String, Optional<T>> parser, String allowed, T fallback) {
        return parser.apply(raw(column)).orElseGet(() -> {
            bad(column, "must be " + allowed + ", found \"" + raw(column) + "\"");
            return fallback;
        });
    }

    /** Builds a checked value; what its constructor refuses becomes a problem at that column. */
    <T> Optional<T> built(String column, Supplier<T> builder) {
        try {
            return Optional.of(builder.get());
        } catch (IllegalArgumentException e) {
            bad(column, String.valueOf(e.getMessage()));
            return Optional.empty();
        }
    }

    void bad(String column, String message) {
        Cell cell = cells.getOrDefault(column, first);
        problems.add(problem(file, cell, column, message));
    }

    private String raw(String column) {
        Cell cell = cells.get(column);
        return cell == null ? "" : cell.text();
    }

    private static Problem problem(String file, Cell cell, String key, String message) {
        return new Problem(file, cell.line(), cell.column(), key, message);
    }
}
