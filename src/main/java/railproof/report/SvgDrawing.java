package railproof.report;

import java.util.List;
import java.util.Locale;

/** A drawing as inline SVG; how pens look is for the page's style to say. */
final class SvgDrawing implements Drawing {
    private final Markup svg = new Markup();

    /** An empty picture; the description is for those who cannot see it. */
    SvgDrawing(double width, double height, String description) {
        svg.add(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\" role=\"img\"><title>{}</title>",
                number(width),
                number(height),
                description);
    }

    Markup done() {
        return svg.add("</svg>");
    }

    @Override
    public void band(Spot topLeft, Spot bottomRight) {
        svg.add(
                "<rect class=\"band\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
                number(topLeft.xDimensionless()),
                number(topLeft.yDimensionless()),
                number(bottomRight.xDimensionless() - topLeft.xDimensionless()),
                number(bottomRight.yDimensionless() - topLeft.yDimensionless()));
    }

    @Override
    public void line(Pen pen, Spot from, Spot to) {
        svg.add(
                "<line class=\"{}\" x1=\"{}\" x2=\"{}\" y1=\"{}\" y2=\"{}\"/>",
                style(pen),
                number(from.xDimensionless()),
                number(to.xDimensionless()),
                number(from.yDimensionless()),
                number(to.yDimensionless()));
    }

    @Override
    public void polyline(Pen pen, List<Spot> spots) {
        StringBuilder path = new StringBuilder();
        for (Spot spot : spots) {
            path.append(number(spot.xDimensionless())).append(',');
            path.append(number(spot.yDimensionless())).append(' ');
        }
        svg.add(
                "<polyline class=\"{}\" points=\"{}\"/>",
                style(pen),
                path.toString().strip());
    }

    @Override
    public void dot(Pen pen, Spot middle, double radius) {
        svg.add(
                "<circle class=\"{}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
                pen == Pen.CURVE ? "dot" : pen == Pen.BEFORE ? "ring" : "mark",
                number(middle.xDimensionless()),
                number(middle.yDimensionless()),
                number(radius));
    }

    @Override
    public void text(Align align, Spot at, String text) {
        svg.add(
                "<text class=\"{}\" x=\"{}\" y=\"{}\">{}</text>",
                align.name().toLowerCase(Locale.ROOT),
                number(at.xDimensionless()),
                number(at.yDimensionless()),
                text);
    }

    @Override
    public void upwards(Spot at, String text) {
        svg.add(
                "<text class=\"middle\" transform=\"translate({} {}) rotate(-90)\">{}</text>",
                number(at.xDimensionless()),
                number(at.yDimensionless()),
                text);
    }

    private static String style(Pen pen) {
        return pen.name().toLowerCase(Locale.ROOT);
    }

    static String number(double pixels) {
        return String.format(Locale.ROOT, "%.2f", pixels);
    }
}
