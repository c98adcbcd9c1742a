package railproof.report;

import java.awt.Color;
import java.io.IOException;
import java.util.List;
import org.apache.pdfbox.pdmodel.PDPageContentStream;
import railproof.report.PdfPaper.TypeFace;

/** A drawing on a page of paper. Told apart in black-and-white print by width, dashes and the fill of points. */
final class PdfDrawing implements Drawing {
    private static final Color BAND = new Color(0xE4, 0xE4, 0xE4);
    private static final Color GRID = new Color(0xBB, 0xBB, 0xBB);
    private static final Color EARLIER = new Color(0x8A, 0x4B, 0x00);
    /** A circle from four curves: control points at this part of the radius. */
    private static final double KAPPA = 4.0 / 3 * (Math.sqrt(2) - 1);

    private static final double TEXT_SIZE = 11;

    private final PdfPaper paper;
    private final int page;
    private final double leftPt;
    private final double topPt;
    private final double scaleRatio;

    /** A drawing with its top left corner at a place of the page, each of its pixels {@code scaleRatio} points wide. */
    PdfDrawing(PdfPaper paper, int page, Spot corner, double scaleRatio) {
        this.paper = paper;
        this.page = page;
        this.leftPt = corner.xDimensionless();
        this.topPt = corner.yDimensionless();
        this.scaleRatio = scaleRatio;
    }

    private float x(double pixels) {
        return (float) (leftPt + scaleRatio * pixels);
    }

    private float y(double pixels) {
        return (float) (PdfPaper.HEIGHT - topPt - scaleRatio * pixels);
    }

    private float length(double pixels) {
        return (float) (scaleRatio * pixels);
    }

    @Override
    public void band(Spot topLeft, Spot bottomRight) {
        paper.draw(page, stream -> {
            stream.setNonStrokingColor(BAND);
            stream.addRect(
                    x(topLeft.xDimensionless()),
                    y(bottomRight.yDimensionless()),
                    length(bottomRight.xDimensionless() - topLeft.xDimensionless()),
                    length(bottomRight.yDimensionless() - topLeft.yDimensionless()));
            stream.fill();
        });
    }

    @Override
    public void line(Pen pen, Spot from, Spot to) {
        polyline(pen, List.of(from, to));
    }

    @Override
    public void polyline(Pen pen, List<Spot> spots) {
        if (spots.isEmpty()) {
            return;
        }
        paper.draw(page, stream -> {
            style(stream, pen);
            stream.moveTo(x(spots.get(0).xDimensionless()), y(spots.get(0).yDimensionless()));
            for (Spot spot : spots.subList(1, spots.size())) {
                stream.lineTo(x(spot.xDimensionless()), y(spot.yDimensionless()));
            }
            stream.stroke();
        });
    }

    private void style(PDPageContentStream stream, Pen pen) throws IOException {
        stream.setLineJoinStyle(1);
        switch (pen) {
            case GRID -> {
                stream.setStrokingColor(GRID);
                stream.setLineWidth(length(0.6));
            }
            case CURVE -> {
                stream.setStrokingColor(Color.BLACK);
                stream.setLineWidth(length(1.4));
            }
            case BEFORE -> {
                stream.setStrokingColor(EARLIER);
                stream.setLineWidth(length(1.2));
                stream.setLineDashPattern(new float[] {length(6), length(3)}, 0);
            }
            case BREAK -> {
                stream.setStrokingColor(EARLIER);
                stream.setLineWidth(length(0.8));
                stream.setLineDashPattern(new float[] {length(2), length(4)}, 0);
            }
            case BAR -> {
                stream.setStrokingColor(Color.BLACK);
                stream.setLineWidth(length(1));
            }
            case MARK -> {
                stream.setStrokingColor(Color.BLACK);
                stream.setLineWidth(length(1.2));
            }
        }
    }

    @Override
    public void dot(Pen pen, Spot middle, double radius) {
        paper.draw(page, stream -> {
            style(stream, pen);
            stream.setLineDashPattern(new float[0], 0);
            stream.setNonStrokingColor(pen == Pen.CURVE ? Color.BLACK : Color.WHITE);
            float cx = x(middle.xDimensionless());
            float cy = y(middle.yDimensionless());
            float r = length(radius);
            float k = (float) (KAPPA * r);
            stream.moveTo(cx + r, cy);
            stream.curveTo(cx + r, cy + k, cx + k, cy + r, cx, cy + r);
            stream.curveTo(cx - k, cy + r, cx - r, cy + k, cx - r, cy);
            stream.curveTo(cx - r, cy - k, cx - k, cy - r, cx, cy - r);
            stream.curveTo(cx + k, cy - r, cx + r, cy - k, cx + r, cy);
            stream.closePath();
            if (pen == Pen.CURVE) {
                stream.fill();
            } else if (pen == Pen.BEFORE) {
                stream.fillAndStroke();
            } else {
                stream.stroke();
            }
        });
    }

    @Override
    public void text(Align align, Spot at, String text) {
        TypeFace type = type();
        double width = paper.width(type, text);
        double back =
                switch (align) {
                    case START -> 0;
                    case MIDDLE -> width / 2;
                    case END -> width;
                };
        paper.text(
                page,
                leftPt + scaleRatio * at.xDimensionless() - back,
                topPt + scaleRatio * at.yDimensionless(),
                type,
                text);
    }

    @Override
    public void upwards(Spot at, String text) {
        paper.upwards(
                page,
                leftPt + scaleRatio * at.xDimensionless(),
                topPt + scaleRatio * at.yDimensionless(),
                type(),
                text);
    }

    private TypeFace type() {
        return new TypeFace(TEXT_SIZE * scaleRatio, false);
    }
}
