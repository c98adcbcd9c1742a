package railproof.ui.plot;

import java.nio.IntBuffer;
import javafx.scene.image.Image;
import javafx.scene.image.PixelBuffer;
import javafx.scene.image.PixelFormat;
import javafx.scene.image.WritableImage;

/**
 * A trace painted into an image. Costs by the picture's width, not by the number of samples.
 *
 * <p>Thread: JavaFX application thread.
 */
public final class TracePicture {
    private final Strokes strokes;
    private final PixelBuffer<IntBuffer> buffer;
    private final Image image;

    /**
     * An empty, transparent picture.
     *
     * @param width pixels, 1 or more
     * @param height pixels, 1 or more
     */
    public TracePicture(int width, int height) {
        this.strokes = new Strokes(width, height);
        this.buffer =
                new PixelBuffer<>(width, height, IntBuffer.wrap(strokes.pixels()), PixelFormat.getIntArgbPreInstance());
        this.image = new WritableImage(buffer);
    }

    /** The picture, to be shown in an ImageView; painting again changes it in place. */
    public Image image() {
        return image;
    }

    /** Pixels across. */
    public int width() {
        return strokes.width();
    }

    /** Pixels down. */
    public int height() {
        return strokes.height();
    }

    /**
     * Paints all samples of a trace over the whole width.
     *
     * @param low value at the bottom edge
     * @param high value at the top edge, above {@code low}
     * @param argb colour, opaque
     * @param thickPx least height of a stroke
     */
    public void paint(PeakPyramid trace, double low, double high, int argb, int thickPx) {
        strokes.paint(trace, low, high, argb, thickPx);
        buffer.updateBuffer(all -> null);
    }
}
