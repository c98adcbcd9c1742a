package railproof.ui;

import java.util.List;
import java.util.function.DoubleUnaryOperator;
import javafx.geometry.VPos;
import javafx.scene.layout.Region;
import javafx.scene.shape.Circle;
import javafx.scene.shape.Line;
import javafx.scene.shape.Polyline;
import javafx.scene.shape.Rectangle;
import javafx.scene.text.Text;
import org.jspecify.annotations.Nullable;
import railproof.profile.Band;

/**
 * Draws a {@link Plot}: axes with round ticks, the allowed band as an edged field, the curve with its points. Made for
 * some hundred points; captures are painted by {@link CapturePane}.
 */
final class PlotPane extends Region {
    private static final int TICKS = 6;
    private static final double TICK_EM = 0.36;

    private @Nullable Plot plot;
    private double emPx;
    private double leftPx;
    private double rightPx;
    private double topPx;
    private double bottomPx;

    PlotPane() {
        getStyleClass().add("plot");
        setMinSize(200, 120);
    }

    void show(Plot next) {
        if (!next.equals(plot)) {
            plot = next;
            setAccessibleText(next.title() + ", " + next.curve().size() + " points");
            requestLayout();
        }
    }

    @Override
    protected void layoutChildren() {
        getChildren().clear();
        Plot drawn = plot;
        if (drawn == null) {
            return;
        }
        emPx = em();
        leftPx = 6 * emPx;
        rightPx = getWidth() - 1.5 * emPx;
        topPx = 2.2 * emPx;
        bottomPx = getHeight() - 3.2 * emPx;
        if (rightPx <= leftPx || bottomPx <= topPx) {
            return;
        }
        DoubleUnaryOperator xs = value -> leftPx + drawn.x().at(value) * (rightPx - leftPx);
        DoubleUnaryOperator ys = value -> bottomPx - drawn.y().at(value) * (bottomPx - topPx);
        bands(drawn, xs, ys);
        axes(drawn, xs, ys);
        before(drawn.before(), xs, ys);
        curve(drawn.curve(), xs, ys);
        text(drawn.title(), leftPx, 0.4 * emPx, 0, "plot-title");
        if (!drawn.before().isEmpty()) {
            text("- -□- -  before        ──●──  after", rightPx, 0.4 * emPx, 1, "plot-text");
        }
    }

    private double em() {
        Text probe = new Text("M");
        probe.getStyleClass().add("plot-text");
        getChildren().add(probe);
        probe.applyCss();
        double em = probe.getFont().getSize();
        getChildren().remove(probe);
        return em;
    }

    private void bands(Plot drawn, DoubleUnaryOperator xs, DoubleUnaryOperator ys) {
        Band y = drawn.allowedY();
        if (Double.isFinite(y.low()) || Double.isFinite(y.high())) {
            double high = clamp(ys.applyAsDouble(finite(y.high(), drawn.y().highDimensionless())), topPx, bottomPx);
            double low = clamp(ys.applyAsDouble(finite(y.low(), drawn.y().lowDimensionless())), topPx, bottomPx);
            band(leftPx, high, rightPx - leftPx, low - high);
            limit(y.low(), drawn.y(), false, ys);
            limit(y.high(), drawn.y(), false, ys);
        }
        Band x = drawn.allowedX();
        if (Double.isFinite(x.low()) || Double.isFinite(x.high())) {
            double low = clamp(xs.applyAsDouble(finite(x.low(), drawn.x().lowDimensionless())), leftPx, rightPx);
            double high = clamp(xs.applyAsDouble(finite(x.high(), drawn.x().highDimensionless())), leftPx, rightPx);
            band(low, topPx, high - low, bottomPx - topPx);
            limit(x.low(), drawn.x(), true, xs);
            limit(x.high(), drawn.x(), true, xs);
        }
    }

    private void band(double x, double y, double width, double height) {
        Rectangle field = new Rectangle(x, y, Math.max(0, width), Math.max(0, height));
        field.getStyleClass().add("plot-band");
        getChildren().add(field);
    }

    private void limit(double value, Plot.Axis axis, boolean upright, DoubleUnaryOperator to) {
        if (!Double.isFinite(value) || !axis.holds(value)) {
            return;
        }
        double at = to.applyAsDouble(value);
        Line line = upright ? new Line(at, topPx, at, bottomPx) : new Line(leftPx, at, rightPx, at);
        line.getStyleClass().add("plot-limit");
        getChildren().add(line);
        String words = "limit " + Glances.rounded(value, axis.unit());
        if (upright) {
            text(words, at + 0.3 * emPx, topPx + 0.1 * emPx, 0, "plot-text");
        } else {
            text(words, rightPx - 0.3 * emPx, at + 0.1 * emPx, 1, "plot-text");
        }
    }

    private void axes(Plot drawn, DoubleUnaryOperator xs, DoubleUnaryOperator ys) {
        Rectangle frame = new Rectangle(leftPx, topPx, rightPx - leftPx, bottomPx - topPx);
        frame.getStyleClass().add("plot-frame");
        getChildren().add(frame);
        for (double tick : Ticks.of(drawn.x().lowDimensionless(), drawn.x().highDimensionless(), TICKS)) {
            double x = xs.applyAsDouble(tick);
            tick(x, bottomPx, x, bottomPx - TICK_EM * emPx);
            text(Glances.rounded(tick, drawn.x().unit()), x, bottomPx + 0.2 * emPx, 0.5, "plot-text");
        }
        for (double tick : Ticks.of(drawn.y().lowDimensionless(), drawn.y().highDimensionless(), TICKS)) {
            double y = ys.applyAsDouble(tick);
            tick(leftPx, y, leftPx + TICK_EM * emPx, y);
            Text label = text(Glances.rounded(tick, drawn.y().unit()), leftPx - TICK_EM * emPx, y, 1, "plot-text");
            label.setTextOrigin(VPos.CENTER);
        }
        text(drawn.x().name(), (leftPx + rightPx) / 2, getHeight() - 1.5 * emPx, 0.5, "plot-text");
    }

    private void tick(double x1, double y1, double x2, double y2) {
        Line line = new Line(x1, y1, x2, y2);
        line.getStyleClass().add("plot-tick");
        getChildren().add(line);
    }

    private void curve(List<Plot.Dot> dots, DoubleUnaryOperator xs, DoubleUnaryOperator ys) {
        Polyline line = new Polyline();
        line.getStyleClass().add("plot-curve");
        getChildren().add(line);
        for (int i = 0; i < dots.size(); i++) {
            double x = xs.applyAsDouble(dots.get(i).xDimensionless());
            double y = ys.applyAsDouble(dots.get(i).yDimensionless());
            line.getPoints().addAll(x, y);
            boolean last = i == dots.size() - 1;
            Circle dot = new Circle(x, y, (last ? 0.43 : 0.25) * emPx);
            dot.getStyleClass().add(last ? "plot-last" : "plot-dot");
            getChildren().add(dot);
        }
    }

    /** An earlier curve: dashed, with open squares, so that colour is not needed to tell the two apart. */
    private void before(List<Plot.Dot> dots, DoubleUnaryOperator xs, DoubleUnaryOperator ys) {
        Polyline line = new Polyline();
        line.getStyleClass().add("plot-before");
        getChildren().add(line);
        for (Plot.Dot each : dots) {
            double x = xs.applyAsDouble(each.xDimensionless());
            double y = ys.applyAsDouble(each.yDimensionless());
            line.getPoints().addAll(x, y);
            Rectangle square = new Rectangle(x - 0.3 * emPx, y - 0.3 * emPx, 0.6 * emPx, 0.6 * emPx);
            square.getStyleClass().add("plot-before-dot");
            getChildren().add(square);
        }
    }

    /** Text with its left edge, middle or right edge at x, for an anchor of 0, 0.5 or 1. */
    private Text text(String words, double x, double y, double anchor, String style) {
        Text text = new Text(words);
        text.getStyleClass().add(style);
        text.setTextOrigin(VPos.TOP);
        getChildren().add(text);
        text.applyCss();
        text.setX(x - anchor * text.getLayoutBounds().getWidth());
        text.setY(y);
        return text;
    }

    private static double finite(double value, double otherwise) {
        return Double.isFinite(value) ? value : otherwise;
    }

    private static double clamp(double value, double low, double high) {
        return Math.max(low, Math.min(high, value));
    }
}
