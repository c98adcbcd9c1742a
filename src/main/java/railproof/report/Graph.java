package railproof.report;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.report.Drawing.Align;
import railproof.report.Drawing.Pen;
import railproof.report.Drawing.Spot;
import railproof.report.Quantities.Scale;

/**
 * A line graph: axes with round ticks, one curve and perhaps an earlier one behind it, bands of what is allowed, one
 * marked point.
 */
final class Graph {
    static final int WIDTH = 660;
    static final int HEIGHT = 300;
    private static final int LEFT = 76;
    private static final int RIGHT = 16;
    private static final int TOP = 12;
    private static final int BOTTOM = 46;
    private static final int TICKS = 6;
    private static final double DOT = 2.5;
    private static final int MOST_BINS = 800;
    /** About as wide as a letter is on average. */
    private static final double LETTER = 6;

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
    private final List<Dot> before = new ArrayList<>();
    private final List<Band> xBands = new ArrayList<>();
    private final List<Band> yBands = new ArrayList<>();
    private List<Double> xBreaks = List.of();
    private boolean dotsShown = true;
    private int marked = -1;
    private String markText = "";
    private boolean markBeside;
    private boolean fromXZero = true;
    private String curveName = "as left";
    private String behindName = "as found";

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

    /** Lines from top to bottom where the curve was broken off and taken up again. */
    Graph withXBreaks(List<Double> places) {
        xBreaks = List.copyOf(places);
        return this;
    }

    Graph withMark(int dot, String text) {
        marked = dot;
        markText = text;
        return this;
    }

    /** The same with the words to the right of the mark and below, where no rising curve runs. */
    Graph withMarkBeside(int dot, String text) {
        markBeside = true;
        return withMark(dot, text);
    }

    /** The run before the repair, on the same axes. */
    Graph withBefore(List<Dot> earlier) {
        before.addAll(earlier);
        return this;
    }

    /** Another curve of the same run behind this one, each with its name. */
    Graph withBehind(List<Dot> other, String ownName, String otherName) {
        curveName = ownName;
        behindName = otherName;
        return withBefore(other);
    }

    /** The horizontal axis begins where the curve does. */
    Graph withoutXZero() {
        fromXZero = false;
        return this;
    }

    /** The picture as SVG; {@code description} is for those who cannot see it. */
    Markup svg(String description) {
        SvgDrawing drawing = new SvgDrawing(WIDTH, HEIGHT, description);
        paint(drawing);
        return drawing.done();
    }

    /** Draws the picture, {@link #WIDTH} by {@link #HEIGHT}. */
    void paint(Drawing on) {
        List<Dot> all = new ArrayList<>(dots);
        all.addAll(before);
        Range xs =
                range(all.stream().map(d -> new Dot(0, d.xDimensionless(), 0)).toList(), xBands, fromXZero);
        Range ys = range(all, yBands, false);
        for (Band band : yBands) {
            double top = ys.y(Math.min(band.high(), ys.high()));
            rectangle(on, LEFT, top, WIDTH - RIGHT, ys.y(Math.max(band.low(), ys.low())));
        }
        for (Band band : xBands) {
            double left = xs.x(Math.max(band.low(), xs.low()));
            rectangle(on, left, TOP, xs.x(Math.min(band.high(), xs.high())), HEIGHT - BOTTOM);
        }
        axes(on, xs, ys);
        for (double place : xBreaks) {
            on.line(Pen.BREAK, new Spot(xs.x(place), TOP), new Spot(xs.x(place), HEIGHT - BOTTOM));
        }
        if (!before.isEmpty()) {
            curve(on, Pen.BEFORE, before, xs, ys);
            key(on);
        }
        curve(on, Pen.CURVE, dots, xs, ys);
        mark(on, xs, ys);
    }

    private void curve(Drawing on, Pen pen, List<Dot> shown, Range xs, Range ys) {
        on.polyline(pen, shown.stream().map(dot -> spot(dot, xs, ys)).toList());
        if (!dotsShown) {
            return;
        }
        for (Dot dot : shown) {
            double cx = xs.x(dot.xDimensionless());
            on.line(
                    Pen.BAR,
                    new Spot(cx, ys.y(dot.yDimensionless() - dot.barDimensionless())),
                    new Spot(cx, ys.y(dot.yDimensionless() + dot.barDimensionless())));
            on.dot(pen, spot(dot, xs, ys), DOT);
        }
    }

    private void mark(Drawing on, Range xs, Range ys) {
        if (marked >= 0) {
            Spot spot = spot(dots.get(marked), xs, ys);
            on.dot(Pen.MARK, spot, 7);
            // otherwise at the left edge, where no limit curve runs at the height of its knee
            double left = markBeside ? spot.xDimensionless() + 14 : LEFT + 10;
            double below = Math.min(spot.yDimensionless() + 20, HEIGHT - BOTTOM - 6);
            on.text(Align.START, new Spot(left, below), "○ " + markText);
        }
    }

    private void key(Drawing on) {
        // under the axis, where no curve runs
        double y = HEIGHT - 12;
        double second = WIDTH - RIGHT - 33 - LETTER * behindName.length();
        double first = second - 45 - LETTER * curveName.length();
        on.line(Pen.CURVE, new Spot(first, y), new Spot(first + 28, y));
        on.text(Align.START, new Spot(first + 33, y + 4), curveName);
        on.line(Pen.BEFORE, new Spot(second, y), new Spot(second + 28, y));
        on.text(Align.START, new Spot(second + 33, y + 4), behindName);
    }

    private static Spot spot(Dot dot, Range xs, Range ys) {
        return new Spot(xs.x(dot.xDimensionless()), ys.y(dot.yDimensionless()));
    }

    private void axes(Drawing on, Range xs, Range ys) {
        Scale xScale = x.scale(xs.magnitude());
        for (double tick : xs.ticks()) {
            double at = xs.x(tick);
            on.line(Pen.GRID, new Spot(at, TOP), new Spot(at, HEIGHT - BOTTOM));
            on.text(Align.MIDDLE, new Spot(at, HEIGHT - BOTTOM + 16), xs.label(tick, xScale));
        }
        Scale yScale = y.scale(ys.magnitude());
        for (double tick : ys.ticks()) {
            double at = ys.y(tick);
            on.line(Pen.GRID, new Spot(LEFT, at), new Spot(WIDTH - RIGHT, at));
            on.text(Align.END, new Spot(LEFT - 6, at + 4), ys.label(tick, yScale));
        }
        on.text(Align.MIDDLE, new Spot((LEFT + WIDTH - RIGHT) / 2.0, HEIGHT - 8), x.name() + " / " + xScale.symbol());
        on.upwards(new Spot(14, (TOP + HEIGHT - BOTTOM) / 2.0), y.name() + " / " + yScale.symbol());
    }

    private static void rectangle(Drawing on, double left, double top, double right, double bottom) {
        if (right > left && bottom > top) {
            on.band(new Spot(left, top), new Spot(right, bottom));
        }
    }

    /** What an axis has to cover; dots are ranged by their height. */
    private static Range range(List<Dot> dots, List<Band> bands, boolean fromZero) {
        double low = fromZero ? 0 : Double.POSITIVE_INFINITY;
        double high = fromZero ? 0 : Double.NEGATIVE_INFINITY;
        for (Dot dot : dots) {
            double middle = dot.yDimensionless();
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
