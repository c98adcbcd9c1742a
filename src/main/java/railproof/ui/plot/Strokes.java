package railproof.ui.plot;

import java.util.Arrays;

/**
 * A trace as pixels: one stroke from lowest to highest sample per column, neighbouring columns joined.
 *
 * <p>Thread: confined to one, any.
 */
final class Strokes {
    private final int width;
    private final int height;
    private final int[] pixels;
    private final double[] extremes = new double[2];

    Strokes(int width, int height) {
        this.width = width;
        this.height = height;
        this.pixels = new int[width * height];
    }

    int width() {
        return width;
    }

    int height() {
        return height;
    }

    /** All pixels, row by row from the top; those without ink are 0. Painting again changes them in place. */
    int[] pixels() {
        return pixels;
    }

    /**
     * Paints all samples of a trace over the whole width, in place of what was painted before.
     *
     * @param thickPx least height of a stroke: a level line has to be seen from where one stands
     */
    void paint(PeakPyramid trace, double low, double high, int argb, int thickPx) {
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
            for (int y = drawTop; y <= Math.min(height - 1, Math.max(drawBottom, drawTop + thickPx - 1)); y++) {
                pixels[y * width + x] = argb;
            }
            lastTop = top;
            lastBottom = bottom;
        }
    }

    private int row(double value, double low, double high) {
        double fromTop = (high - value) / (high - low) * (height - 1);
        return (int) Math.max(0, Math.min(height - 1, Math.round(fromTop)));
    }
}
