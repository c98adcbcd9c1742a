package railproof.ui;

import javafx.scene.control.Label;
import javafx.scene.image.ImageView;
import javafx.scene.layout.Region;
import javafx.scene.shape.Line;
import railproof.base.Unit;
import railproof.profile.Band;
import railproof.profile.Rail;
import railproof.ui.plot.PeakPyramid;
import railproof.ui.plot.TracePicture;

/** One rail's output over the hours of a burn-in, between its limits; every short dip stays visible. */
final class TrendPane extends Region {
    private static final double ROOM_RATIO = 0.15;
    private static final double PAD_PX = 4;

    private final Rail rail;
    private final ImageView image = new ImageView();
    private final Label reading = new Label();
    private final Label words = new Label();
    private final Line lowLine = new Line();
    private final Line highLine = new Line();
    private final PeakPyramid trace = new PeakPyramid();
    private final double[] range = new double[2];
    private TracePicture picture = new TracePicture(1, 1);

    TrendPane(Rail rail) {
        this.rail = rail;
        getStyleClass().add("trend");
        reading.getStyleClass().add("trend-reading");
        words.getStyleClass().add("plot-caption");
        lowLine.getStyleClass().add("plot-limit");
        highLine.getStyleClass().add("plot-limit");
        for (javafx.scene.Node node : new javafx.scene.Node[] {image, lowLine, highLine, reading, words}) {
            node.setManaged(false);
            getChildren().add(node);
        }
        say();
    }

    /** Takes what has come in since the last time. */
    void take(TrendLog log) {
        double[] more = log.after(rail.name(), trace.size());
        if (more.length > 0) {
            trace.append(more, more.length);
            say();
            requestLayout();
        }
    }

    private void say() {
        Band band = rail.limits().outputV();
        String limits = "limits " + railproof.report.Quantities.limit(band, Unit.VOLT);
        reading.setText(trace.size() == 0 ? "–" : Glances.read(trace.sample(trace.size() - 1), Unit.VOLT));
        words.setText(rail.name() + (trace.size() == 0 ? ": no row yet, " : ": ") + limits);
        setAccessibleText("Trend of " + words.getText() + ", last " + reading.getText());
    }

    /** What is drawn: the limits with some room, and whatever lies outside. */
    private void range() {
        Band band = rail.limits().outputV();
        double nominalV = rail.nominalV();
        double low = Double.isFinite(band.low()) ? band.low() : Math.min(0.9 * nominalV, 1.1 * nominalV);
        double high = Double.isFinite(band.high()) ? band.high() : Math.max(0.9 * nominalV, 1.1 * nominalV);
        double room = ROOM_RATIO * (high - low);
        trace.extremes(0, trace.size(), range);
        range[0] = Math.min(range[0], low - room);
        range[1] = Math.max(range[1], high + room);
    }

    @Override
    protected void layoutChildren() {
        reading.autosize();
        reading.relocate(PAD_PX, 1);
        words.autosize();
        words.relocate(reading.getWidth() + 4 * PAD_PX, 1 + reading.getBaselineOffset() - words.getBaselineOffset());
        int top = (int) Math.ceil(reading.getHeight()) + 2;
        int width = (int) (getWidth() - 2 * PAD_PX);
        int height = (int) (getHeight() - top - PAD_PX);
        boolean room = trace.size() > 0 && width > 10 && height > 8;
        image.setVisible(room);
        lowLine.setVisible(room);
        highLine.setVisible(room);
        if (!room) {
            return;
        }
        if (picture.width() != width || picture.height() != height) {
            picture = new TracePicture(width, height);
            image.setImage(picture.image());
        }
        range();
        picture.paint(trace, range[0], range[1], Inks.mark(this), Inks.strokePx(words.getFont()));
        image.relocate(PAD_PX, top);
        limit(lowLine, rail.limits().outputV().low(), top, height);
        limit(highLine, rail.limits().outputV().high(), top, height);
    }

    private void limit(Line line, double value, int top, int height) {
        line.setVisible(Double.isFinite(value));
        if (Double.isFinite(value)) {
            double y = top + (range[1] - value) / (range[1] - range[0]) * (height - 1);
            line.setStartX(PAD_PX);
            line.setEndX(getWidth() - PAD_PX);
            line.setStartY(y);
            line.setEndY(y);
        }
    }
}
