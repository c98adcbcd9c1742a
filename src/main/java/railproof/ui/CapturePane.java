package railproof.ui;

import java.util.Optional;
import javafx.scene.control.Label;
import javafx.scene.image.ImageView;
import javafx.scene.layout.Region;
import org.jspecify.annotations.Nullable;
import railproof.base.Unit;
import railproof.run.Waveform;
import railproof.ui.plot.PeakPyramid;
import railproof.ui.plot.TracePicture;

/** The output's ripple as captured last, painted so that every peak is seen, however many samples there are. */
final class CapturePane extends Region {
    private final Label words = new Label();
    private final ImageView image = new ImageView();
    private int shownId = -1;
    private @Nullable PeakPyramid pyramid;
    private @Nullable TracePicture picture;
    private final double[] range = {-1, 1};

    CapturePane() {
        getStyleClass().add("capture");
        words.getStyleClass().add("plot-caption");
        image.setManaged(false);
        words.setManaged(false);
        getChildren().addAll(image, words);
        setMinSize(150, 60);
    }

    void show(Optional<Waveform> next) {
        if (next.isEmpty() || next.get().id() == shownId) {
            return;
        }
        shownId = next.get().id();
        next.get().traces().stream()
                .filter(trace -> trace.column().startsWith("output"))
                .findFirst()
                .ifPresent(trace -> take(next.get(), trace.samples()));
    }

    private void take(Waveform capture, double[] samples) {
        PeakPyramid trace = PeakPyramid.of(samples);
        pyramid = trace;
        trace.extremes(0, trace.size(), range);
        double spanV = range[1] - range[0];
        words.setText("output ripple, last capture: " + Glances.read(spanV, Unit.VOLT) + " from lowest to highest in "
                + Glances.rounded(samples.length / capture.rateHz(), Unit.SECOND));
        setAccessibleText(words.getText());
        requestLayout();
    }

    @Override
    protected void layoutChildren() {
        words.autosize();
        words.relocate(6, 2);
        PeakPyramid trace = pyramid;
        int width = (int) getWidth();
        int top = (int) words.getHeight() + 4;
        int height = (int) getHeight() - top - 4;
        if (trace == null || width < 10 || height < 10) {
            return;
        }
        TracePicture painted = picture;
        if (painted == null || painted.width() != width || painted.height() != height) {
            painted = new TracePicture(width, height);
            picture = painted;
            image.setImage(painted.image());
        }
        double room = Math.max(1e-9, 0.05 * (range[1] - range[0]));
        painted.paint(trace, range[0] - room, range[1] + room, Inks.mark(this), Inks.strokePx(words.getFont()));
        image.relocate(0, top);
    }
}
