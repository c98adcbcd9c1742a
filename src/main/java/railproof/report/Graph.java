package railproof.report;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.report.Quantities.Scale;

/**
 * A line graph as inline SVG, black on white: axes with round ticks, one curve, bands of what is allowed, one marked
 * point.
 */
final class Graph {
    private static final int WIDTH = 660;
    private static final int HEIGHT = 300;
    private static final int LEFT = 76;
    private static final int RIGHT = 16;
    private static final int TOP = 12;
    private static final int BOTTOM = 46;
    private static final int TICKS = 6;
    private static final int MOST_BINS = 800;

    /** One point of the curve, in the axes' units, with an error bar up and down; 0 for none. */
    record Dot(double xDimensionless, double yDimensionless, double barDimensionless) {}

    /**
     * What an axis shows.
     *
     * @param plainSymbol what the numbers are in, if they are shown as they are; otherwise the unit's prefix is chosen
     */
    record Axis(String name, Unit unit, Optional<String> plainSymbol) {
        Axis(String name, Unit unit) {
            this(name, unit, Optional.empty());
        }

        Scale scale(double magnitude) {
            return plainSymbol
                    .map(symbol -> new Scale(0, symbol))
                    .orElseGet(() -> Scale.of(BigDecimal.valueOf(magnitude), unit));
        }
    }

    private final Axis x;
    private final Axis y;
    private final List<Dot> dots;
    private final List<Band> xBands = new ArrayList<>();
    private final List<Band> yBands = new ArrayList<>();
    private List<Double> xBreaks = List.of();
    private boolean dotsShown = true;
    private int marked = -1;
    private String markText = "";

    Graph(Axis x, Axis y, List<Dot> dots) {
        this.x = x;
        this.y = y;
        this.dots = List.copyOf(dots);
    }

    /** At most a lowest and a highest dot per bin, in their order, so that no peak is lost. */
    static List<Dot> thinned(List<Dot> dots) {
        int perBin = Math.max(1, (dots.size() + MOST_BINS - 1) / MOST_BINS);
        List<Dot> kept = new ArrayList<>();
        for (int start = 0; start < dots.size(); start += perBin) {
            int lowest = start;
            int highest = start;
            for (int i = start; i < Math.min(start + perBin, dots.size()); i++) {
                double now = dots.get(i).yDimensionless();
                lowest = now < dots.get(lowest).yDimensionless() ? i : lowest;
                highest = now > dots.get(highest).yDimensionless() ? i : highest;
            }
            kept.add(dots.get(Math.min(lowest, highest)));
            if (lowest != highest) {
                kept.add(dots.get(Math.max(lowest, highest)));
            }
        }
        return kept;
    }

    Graph withXBand(Band band) {
        xBands.add(band);
        return this;
    }

    Graph withYBand(Band band) {
        yBands.add(band);
        return this;
    }

    /** Shows zero on the vertical axis. */
    Graph withYZero() {
        return withYBand(new Band(0, 0));
    }

    /** Only the line, for captures. */
    Graph withoutDots() {
        dotsShown = false;
        return this;
    }

    /** Dashed lines from top to bottom where the curve was broken off and taken up again. */
    Graph withXBreaks(List<Double> places) {
        xBreaks = List.copyOf(places);
        return this;
    }

    Graph withMark(int dot, String text) {
        marked = dot;
        markText = text;
        return this;
    }

    /** The picture; {@code description} is for those who cannot see it. */
    Markup svg(String description) {
        Range xs =
                range(dots.stream().map(d -> new Dot(d.xDimensionless(), 0, 0)).toList(), xBands, true);
        Range ys = range(dots, yBands, false);
        Markup svg = new Markup();
        svg.add(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\" role=\"img\"><title>{}</title>",
                number(WIDTH),
                number(HEIGHT),
                description);
        for (Band band : yBands) {
            double top = ys.y(Math.min(band.high(), ys.high()));
            rectangle(svg, LEFT, top, WIDTH - RIGHT, ys.y(Math.max(band.low(), ys.low())));
        }
        for (Band band : xBands) {
            double left = xs.x(Math.max(band.low(), xs.low()));
            rectangle(svg, left, TOP, xs.x(Math.min(band.high(), xs.high())), HEIGHT - BOTTOM);
        }
        axes(svg, xs, ys);
        for (double place : xBreaks) {
            String at = number(xs.x(place));
            svg.add(
                    "<line class=\"break\" x1=\"{}\" x2=\"{}\" y1=\"{}\" y2=\"{}\"/>",
                    at,
                    at,
                    number(TOP),
                    number(HEIGHT - BOTTOM));
        }
        curve(svg, xs, ys);
        return svg.add("</svg>");
    }

    private void curve(Markup svg, Range xs, Range ys) {
        StringBuilder path = new StringBuilder();
        for (Dot dot : dots) {
            path.append(number(xs.x(dot.xDimensionless()))).append(',');
            path.append(number(ys.y(dot.yDimensionless()))).append(' ');
        }
        svg.add("<polyline class=\"curve\" points=\"{}\"/>", path.toString().strip());
        if (dotsShown) {
            for (Dot dot : dots) {
                String cx = number(xs.x(dot.xDimensionless()));
                svg.add(
                        "<line class=\"bar\" x1=\"{}\" x2=\"{}\" y1=\"{}\" y2=\"{}\"/>",
                        cx,
                        cx,
                        number(ys.y(dot.yDimensionless() - dot.barDimensionless())),
                        number(ys.y(dot.yDimensionless() + dot.barDimensionless())));
                svg.add(
                        "<circle class=\"dot\" cx=\"{}\" cy=\"{}\" r=\"2.5\"/>",
                        cx,
                        number(ys.y(dot.yDimensionless())));
            }
        }
        if (marked >= 0) {
            double cx = xs.x(dots.get(marked).xDimensionless());
            double cy = ys.y(dots.get(marked).yDimensionless());
            svg.add("<circle class=\"mark\" cx=\"{}\" cy=\"{}\" r=\"7\"/>", number(cx), number(cy));
            // at the left edge, where no limit curve runs at the height of its knee
            svg.add("<text x=\"{}\" y=\"{}\">○ {}</text>", number(LEFT + 10), number(cy + 20), markText);
        }
    }

    private void axes(Markup svg, Range xs, Range ys) {
        Scale xScale = x.scale(xs.magnitude());
        for (double tick : xs.ticks()) {
            String at = number(xs.x(tick));
            svg.add(
                    "<line class=\"grid\" x1=\"{}\" x2=\"{}\" y1=\"{}\" y2=\"{}\"/>",
                    at,
                    at,
                    number(TOP),
                    number(HEIGHT - BOTTOM));
            svg.add(
                    "<text class=\"middle\" x=\"{}\" y=\"{}\">{}</text>",
                    at,
                    number(HEIGHT - BOTTOM + 16),
                    xs.label(tick, xScale));
        }
        Scale yScale = y.scale(ys.magnitude());
        for (double tick : ys.ticks()) {
            double at = ys.y(tick);
            svg.add(
                    "<line class=\"grid\" x1=\"{}\" x2=\"{}\" y1=\"{}\" y2=\"{}\"/>",
                    number(LEFT),
                    number(WIDTH - RIGHT),
                    number(at),
                    number(at));
            svg.add(
                    "<text class=\"end\" x=\"{}\" y=\"{}\">{}</text>",
                    number(LEFT - 6),
                    number(at + 4),
                    ys.label(tick, yScale));
        }
        svg.add(
                "<text class=\"middle\" x=\"{}\" y=\"{}\">{} / {}</text>",
                number((LEFT + WIDTH - RIGHT) / 2.0),
                number(HEIGHT - 8),
                x.name(),
                xScale.symbol());
        double middle = (TOP + HEIGHT - BOTTOM) / 2.0;
        svg.add(
                "<text class=\"middle\" transform=\"translate(14 {}) rotate(-90)\">{} / {}</text>",
                number(middle),
                y.name(),
                yScale.symbol());
    }

    private static void rectangle(Markup svg, double left, double top, double right, double bottom) {
        if (right > left && bottom > top) {
            svg.add(
                    "<rect class=\"band\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
                    number(left),
                    number(top),
                    number(right - left),
                    number(bottom - top));
        }
    }

    private static Range range(List<Dot> dots, List<Band> bands, boolean fromZero) {
        double low = fromZero ? 0 : Double.POSITIVE_INFINITY;
        double high = fromZero ? 0 : Double.NEGATIVE_INFINITY;
        for (Dot dot : dots) {
            double middle = fromZero ? dot.xDimensionless() : dot.yDimensionless();
            low = Math.min(low, middle - dot.barDimensionless());
            high = Math.max(high, middle + dot.barDimensionless());
        }
        for (Band band : bands) {
            low = Double.isInfinite(band.low()) ? low : Math.min(low, band.low());
            high = Double.isInfinite(band.high()) ? high : Math.max(high, band.high());
        }
        double width = high - low;
        double margin = width > 0 ? 0.05 * width : Math.max(0.05 * Math.abs(high), 1e-9);
        return new Range(fromZero && low == 0 ? 0 : low - margin, high + margin);
    }

    private static String number(double pixels) {
        return String.format(Locale.ROOT, "%.2f", pixels);
    }

    /** What an axis covers, in its unit. */
    private record Range(double lowDimensionless, double highDimensionless) {
        double low() {
            return lowDimensionless;
        }

        double high() {
            return highDimensionless;
        }

        double magnitude() {
            return Math.max(Math.abs(low()), Math.abs(high()));
        }

        double x(double value) {
            return LEFT + (value - low()) / (high() - low()) * (WIDTH - LEFT - RIGHT);
        }

        double y(double value) {
            return HEIGHT - BOTTOM - (value - low()) / (high() - low()) * (HEIGHT - TOP - BOTTOM);
        }

        /** A step of 1, 2 or 5 times a power of ten, giving a handful of ticks. */
        double step() {
            double rough = (high() - low()) / TICKS;
            double decade = Math.pow(10, Math.floor(Math.log10(rough)));
            double digit = rough / decade;
            return decade * (digit <= 1 ? 1 : digit <= 2 ? 2 : digit <= 5 ? 5 : 10);
        }

        List<Double> ticks() {
            List<Double> ticks = new ArrayList<>();
            double step = step();
            for (double n = Math.ceil(low() / step); n * step <= high() && ticks.size() < 3 * TICKS; n++) {
                ticks.add(n * step);
            }
            return ticks;
        }

        String label(double tick, Scale scale) {
            int decimals = Math.max(0, scale.exponent() - (int) Math.floor(Math.log10(step()) + 1e-9));
            BigDecimal shown = scale.apply(BigDecimal.valueOf(tick)).setScale(decimals, RoundingMode.HALF_UP);
            return (shown.signum() == 0 ? shown.abs() : shown).toPlainString();
        }
    }
}
