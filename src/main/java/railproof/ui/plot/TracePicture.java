package railproof.ui.plot;

import java.nio.IntBuffer;
import java.util.Arrays;
import javafx.scene.image.Image;
import javafx.scene.image.PixelBuffer;
import javafx.scene.image.PixelFormat;
import javafx.scene.image.WritableImage;

/**
 * A trace painted into an image, one stroke from lowest to highest sample per pixel column, neighbouring columns
 * joined. Costs by the picture's width, not by the number of samples.
 *
 * <p>Thread: JavaFX application thread.
 */
public final class TracePicture {
    private final int width;
    private final int height;
    private final int[] pixels;
    private final PixelBuffer<IntBuffer> buffer;
    private final Image image;
    private final double[] extremes = new double[2];

    /**
     * An empty, transparent picture.
     *
     * @param width pixels, 1 or more
     * @param height pixels, 1 or more
     */
    public TracePicture(int width, int height) {
        this.width = width;
        this.height = height;
        this.pixels = new int[width * height];
        this.buffer = new PixelBuffer<>(width, height, IntBuffer.wrap(pixels), PixelFormat.getIntArgbPreInstance());
        this.image = new WritableImage(buffer);
    }

    /** The picture, to be shown in an ImageView; painting again changes it in place. */
    public Image image() {
        return image;
    }

    /** Pixels across. */
    public int width() {
        return width;
    }

    /** Pixels down. */
    public int height() {
        return height;
    }

    /**
     * Paints all samples of a trace over the whole width.
     *
     * @param low value at the bottom edge
     * @param high value at the top edge, above {@code low}
     * @param argb colour, opaque
     */
    public void paint(PeakPyramid trace, double low, double high, int argb) {
        Arrays.fill(pixels, 0);
        int count = trace.size();
        int lastTop = -1;
        int lastBottom = -1;
        for (int x = 0; count > 0 && x < width; x++) {
            int from = (int) ((long) x * count / width);
            int to = Math.max(from + 1, (int) ((long) (x + 1) * count / width));
            trace.extremes(from, to, extremes);
            int top = row(extremes[1], low, high);
            int bottom = row(extremes[0], low, high);
            int drawTop = lastTop < 0 ? top : Math.min(top, lastBottom);
            int drawBottom = lastTop < 0 ? bottom : Math.max(bottom, lastTop);
            // two pixels at least: a level line has to be seen from where one stands
            for (int y = drawTop; y <= Math.min(height - 1, Math.max(drawBottom, drawTop + 1)); y++) {
                pixels[y * width + x] = argb;
            }
            lastTop = top;
            lastBottom = bottom;
        }
        buffer.updateBuffer(all -> null);
    }

    private int row(double value, double low, double high) {
        double fromTop = (high - value) / (high - low) * (height - 1);
        return (int) Math.max(0, Math.min(height - 1, Math.round(fromTop)));
    }
}
