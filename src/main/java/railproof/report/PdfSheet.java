package railproof.report;

import java.awt.Color;
import java.util.ArrayList;
import java.util.List;
import railproof.report.Drawing.Spot;
import railproof.report.PdfPaper.TypeFace;

/** Fills pages from the top: paragraphs, lists, tables, pictures; goes on to the next page by itself. Thread: one. */
final class PdfSheet {
    static final double MARGIN = 42;
    static final double WIDTH = PdfPaper.WIDTH - 2 * MARGIN;

    static final TypeFace SMALL = new TypeFace(7.4, false);
    static final TypeFace SMALL_BOLD = new TypeFace(7.4, true);
    static final TypeFace TINY = new TypeFace(6.4, false);
    static final TypeFace HEADING = new TypeFace(10.5, true);

    private static final double LEADING = 1.26;
    private static final double PADDING = 1.2;
    private static final Color LIGHT = new Color(0x99, 0x99, 0x99);

    private final PdfPaper paper;
    private final double bottomPt;
    private int page = -1;
    private double yPt;

    /**
     * Empty pages.
     *
     * @param footer height kept free at the foot of every page, points
     */
    PdfSheet(PdfPaper paper, double footer) {
        this.paper = paper;
        this.bottomPt = PdfPaper.HEIGHT - MARGIN - footer;
        nextPage();
    }

    void nextPage() {
        paper.newPage();
        page++;
        yPt = MARGIN;
    }

    int page() {
        return page;
    }

    /** Goes on to the next page unless so much is left on this one. */
    void need(double height) {
        if (yPt + height > bottomPt) {
            nextPage();
        }
    }

    void skip(double height) {
        yPt += height;
    }

    /** Height left above the footer. */
    double left() {
        return bottomPt - yPt;
    }

    void paragraph(TypeFace type, String text) {
        paragraph(type, text, 0);
    }

    void paragraph(TypeFace type, String text, double indent) {
        for (String line : wrapped(type, text, WIDTH - indent)) {
            need(height(type));
            line(type, MARGIN + indent, line);
        }
    }

    void heading(String text) {
        need(60);
        skip(7);
        paragraph(HEADING, text);
        skip(1.5);
    }

    /** Text in a thick frame of that width. */
    void framed(TypeFace type, String text, double width) {
        List<String> lines = wrapped(type, text, width - 16);
        double height = lines.size() * height(type) + 8;
        need(height + 4);
        double top = yPt;
        paper.draw(page, stream -> {
            stream.setStrokingColor(Color.BLACK);
            stream.setLineWidth(2);
            stream.addRect((float) (MARGIN + 1), (float) (PdfPaper.HEIGHT - top - height), (float) (width - 2), (float)
                    height);
            stream.stroke();
        });
        skip(4);
        lines.forEach(line -> line(type, MARGIN + 8, line));
        skip(8);
    }

    private void line(TypeFace type, double x, String text) {
        paper.text(page, x, yPt + type.sizeDimensionless(), type, text);
        yPt += height(type);
    }

    private static double height(TypeFace type) {
        return LEADING * type.sizeDimensionless();
    }

    /** Names and values in two columns side by side, filled one after the other. */
    void twoColumns(List<CertificateFacts.Fact> facts, double nameWidth) {
        double column = WIDTH / 2 - 6;
        double start = yPt;
        double lowest = yPt;
        double total = 0;
        List<Double> heights = new ArrayList<>();
        for (CertificateFacts.Fact fact : facts) {
            double height = wrapped(SMALL, fact.value(), column - nameWidth).size() * height(SMALL) + PADDING;
            heights.add(height);
            total += height;
        }
        double x = MARGIN;
        double half = 0;
        for (int i = 0; i < facts.size(); i++) {
            if (x == MARGIN && half + heights.get(i) / 2 > total / 2) {
                x = MARGIN + column + 12;
                yPt = start;
            }
            half += heights.get(i);
            double top = yPt;
            line(SMALL, x, facts.get(i).name());
            yPt = top;
            for (String line : wrapped(SMALL_BOLD, facts.get(i).value(), column - nameWidth)) {
                line(SMALL, x + nameWidth, line);
            }
            yPt = top + heights.get(i);
            lowest = Math.max(lowest, yPt);
        }
        yPt = lowest;
    }

    /** A cell of a table. */
    record Cell(TypeFace type, String text, String below) {
        static Cell of(String text) {
            return new Cell(SMALL, text, "");
        }
    }

    /** Rows under a heading that is repeated on every page. */
    void table(double[] widths, List<String> heading, List<List<Cell>> rows) {
        List<Cell> head =
                heading.stream().map(text -> new Cell(SMALL_BOLD, text, "")).toList();
        need(40);
        row(widths, head);
        rule(0.9, Color.BLACK);
        for (List<Cell> cells : rows) {
            if (rowHeight(widths, cells) > left()) {
                nextPage();
                row(widths, head);
                rule(0.9, Color.BLACK);
            }
            row(widths, cells);
            rule(0.35, LIGHT);
        }
    }

    private double rowHeight(double[] widths, List<Cell> cells) {
        double height = 0;
        for (int i = 0; i < widths.length; i++) {
            height = Math.max(height, cellHeight(cells.get(i), widths[i]));
        }
        return height + 2 * PADDING;
    }

    private double cellHeight(Cell cell, double width) {
        double below = cell.below().isEmpty()
                ? 0
                : wrapped(TINY, cell.below(), width - 6).size() * height(TINY);
        return wrapped(cell.type(), cell.text(), width - 6).size() * height(cell.type()) + below;
    }

    private void row(double[] widths, List<Cell> cells) {
        double top = yPt + PADDING;
        double height = rowHeight(widths, cells);
        double x = MARGIN;
        for (int i = 0; i < widths.length; i++) {
            yPt = top;
            for (String line : wrapped(cells.get(i).type(), cells.get(i).text(), widths[i] - 6)) {
                line(cells.get(i).type(), x, line);
            }
            if (!cells.get(i).below().isEmpty()) {
                for (String line : wrapped(TINY, cells.get(i).below(), widths[i] - 6)) {
                    line(TINY, x, line);
                }
            }
            x += widths[i];
        }
        yPt = top - PADDING + height;
    }

    private void rule(double width, Color color) {
        double at = yPt;
        paper.draw(page, stream -> {
            stream.setStrokingColor(color);
            stream.setLineWidth((float) width);
            stream.moveTo((float) MARGIN, (float) (PdfPaper.HEIGHT - at));
            stream.lineTo((float) (MARGIN + WIDTH), (float) (PdfPaper.HEIGHT - at));
            stream.stroke();
        });
        skip(0.6);
    }

    void graph(Graph graph, double scale) {
        double height = scale * Graph.HEIGHT;
        need(height);
        graph.paint(new PdfDrawing(paper, page, new Spot(MARGIN, yPt), scale));
        skip(height);
    }

    /** A QR code with its left top corner at a place of the page. */
    void qr(QrPattern pattern, double x, double top, double side) {
        double module = side / pattern.size();
        paper.draw(page, stream -> {
            stream.setNonStrokingColor(Color.BLACK);
            pattern.paint((left, right, row) -> {
                try {
                    stream.addRect(
                            (float) (x + left * module),
                            (float) (PdfPaper.HEIGHT - top - (row + 1) * module),
                            (float) ((right - left) * module),
                            (float) module);
                } catch (java.io.IOException e) {
                    throw new java.io.UncheckedIOException(e);
                }
            });
            stream.fill();
        });
    }

    /** Lines no wider than that; a word that is too long is cut. */
    List<String> wrapped(TypeFace type, String text, double width) {
        List<String> lines = new ArrayList<>();
        String line = "";
        for (String word : paper.printable(text).split(" ", -1)) {
            String longer = line.isEmpty() ? word : line + " " + word;
            if (paper.width(type, longer) <= width) {
                line = longer;
                continue;
            }
            if (!line.isEmpty()) {
                lines.add(line);
            }
            line = word;
            while (paper.width(type, line) > width && line.length() > 1) {
                int cut = line.length() - 1;
                while (cut > 1 && paper.width(type, line.substring(0, cut)) > width) {
                    cut--;
                }
                lines.add(line.substring(0, cut));
                line = line.substring(cut);
            }
        }
        lines.add(line);
        return lines;
    }
}
