package railproof.record;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import railproof.base.Problem;

/**
 * A CSV file taken apart by RFC 4180, every cell with its place. Written here because the library used for writing
 * tells neither the place of a cell nor where the last whole record ends, and both matter when a file is damaged. Line
 * ends may also be bare LF, as some editors leave them.
 *
 * @param rows all whole records in order; none if they were handed on one by one
 * @param torn the place where an unfinished last record starts
 * @param wholeLength length of the whole records together, in characters
 */
record CsvText(List<List<Cell>> rows, Optional<Cell> torn, int wholeLength) {
    /**
     * One cell.
     *
     * @param text without quotes
     * @param line 1-based
     * @param column 1-based, in characters
     */
    record Cell(String text, int line, int column) {}

    /** Takes the text apart; broken quoting is added to {@code problems} and ends the reading. */
    static CsvText parse(String file, String text, List<Problem> problems) {
        List<List<Cell>> rows = new ArrayList<>();
        CsvText end = parse(file, text, problems, rows::add);
        return new CsvText(rows, end.torn(), end.wholeLength());
    }

    /** The same, handing on each record instead of keeping it: a day's points fill a memory. */
    static CsvText parse(String file, String text, List<Problem> problems, Consumer<List<Cell>> sink) {
        return new Parser(file, text, problems, sink).parse();
    }

    private static final String BAD_QUOTING =
            "a cell that holds a quote or a line break must stand in quotes as a whole, with inner quotes doubled";

    private static final class Parser {
        private final String file;
        private final String text;
        private final List<Problem> problems;
        private final Consumer<List<Cell>> sink;
        private int at;
        private int line = 1;
        private int lineStart;
        private boolean broken;

        Parser(String file, String text, List<Problem> problems, Consumer<List<Cell>> sink) {
            this.file = file;
            this.text = text;
            this.problems = problems;
            this.sink = sink;
        }

        CsvText parse() {
            while (at < text.length()) {
                Cell start = new Cell("", line, at - lineStart + 1);
                int startAt = at;
                Optional<List<Cell>> row = row();
                if (row.isEmpty()) {
                    return new CsvText(List.of(), broken ? Optional.empty() : Optional.of(start), startAt);
                }
                sink.accept(row.get());
            }
            return new CsvText(List.of(), Optional.empty(), text.length());
        }

        /** One record up to and over its line end; empty if the text ends first or the quoting is broken. */
        private Optional<List<Cell>> row() {
            List<Cell> cells = new ArrayList<>();
            while (true) {
                int cellLine = line;
                int cellColumn = at - lineStart + 1;
                StringBuilder cell = new StringBuilder();
                boolean whole = cell(cell);
                if (!whole || at >= text.length()) {
                    return Optional.empty();
                }
                cells.add(new Cell(cell.toString(), cellLine, cellColumn));
                char next = text.charAt(at);
                if (next == ',') {
                    at++;
                } else if (next == '\n' || text.startsWith("\r\n", at)) {
                    at += next == '\n' ? 1 : 2;
                    newLine();
                    return Optional.of(cells);
                } else if (next == '\r' && at + 1 == text.length()) {
                    at++;
                    return Optional.empty();
                } else {
                    problems.add(new Problem(file, line, at - lineStart + 1, "", BAD_QUOTING));
                    broken = true;
                    return Optional.empty();
                }
            }
        }

        private boolean cell(StringBuilder cell) {
            if (at < text.length() && text.charAt(at) == '"') {
                return quoted(cell);
            }
            while (at < text.length() && ",\r\n\"".indexOf(text.charAt(at)) < 0) {
                cell.append(text.charAt(at++));
            }
            return true;
        }

        private boolean quoted(StringBuilder cell) {
            at++;
            while (at < text.length()) {
                char c = text.charAt(at++);
                if (c == '"') {
                    if (at >= text.length() || text.charAt(at) != '"') {
                        return true;
                    }
                    at++;
                } else if (c == '\n') {
                    newLine();
                }
                cell.append(c);
            }
            return false;
        }

        private void newLine() {
            line++;
            lineStart = at;
        }
    }
}
