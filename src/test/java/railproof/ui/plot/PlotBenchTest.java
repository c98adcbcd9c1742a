package railproof.ui.plot;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.FutureTask;
import javafx.application.Platform;
import javafx.scene.Scene;
import javafx.scene.chart.LineChart;
import javafx.scene.chart.NumberAxis;
import javafx.scene.chart.XYChart;
import javafx.scene.image.ImageView;
import javafx.scene.layout.StackPane;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * Cost of showing a capture that has grown by a hundredth, as a median over frames: our picture against JavaFX's own
 * LineChart fed the same samples, in one run. A frame is the change of the data, the layout and the rendering of the
 * scene into an image. Prints; asserts nothing about time. Needs a display.
 */
@Tag("bench")
class PlotBenchTest {
    private static final int WIDTH = 1200;
    private static final int HEIGHT = 400;

    @Test
    void refreshAtTenThousandToAMillionPoints() throws Exception {
        Locale.setDefault(Locale.ROOT);
        CountDownLatch ready = new CountDownLatch(1);
        try {
            Platform.startup(ready::countDown);
        } catch (IllegalStateException e) {
            Platform.runLater(ready::countDown); // another class has started it: it lives as long as the process
        }
        ready.await();
        System.out.println("  points   picture ms   LineChart ms   (median of frames)");
        for (int points : new int[] {10_000, 100_000, 1_000_000}) {
            double[] samples = samples(points);
            double picture = onFx(() -> picture(samples));
            // a chart of a million points does not come to an end worth waiting for
            double chart = points > 100_000 ? Double.NaN : onFx(() -> chart(samples, points > 10_000 ? 3 : 15));
            System.out.printf("%8d   %10.2f   %12.1f%n", points, picture, chart);
        }
    }

    private static double[] samples(int points) {
        SplittableRandom random = new SplittableRandom(1975);
        double[] samples = new double[points];
        for (int i = 0; i < points; i++) {
            samples[i] = Math.sin(2 * Math.PI * 13 * i / points) + 0.05 * random.nextDouble();
        }
        return samples;
    }

    private static double picture(double[] samples) {
        TracePicture picture = new TracePicture(WIDTH, HEIGHT);
        Scene scene = new Scene(new StackPane(new ImageView(picture.image())), WIDTH, HEIGHT);
        List<Double> frames = new ArrayList<>();
        for (int frame = 0; frame < 40; frame++) {
            PeakPyramid trace = new PeakPyramid();
            int first = samples.length - samples.length / 100;
            trace.append(samples, first);
            double[] grown = Arrays.copyOfRange(samples, first, samples.length);
            long startNs = System.nanoTime();
            trace.append(grown, grown.length);
            picture.paint(trace, -1.2, 1.2, 0xFF0B4F6C);
            scene.snapshot(null);
            frames.add((System.nanoTime() - startNs) / 1e6);
        }
        return median(frames);
    }

    private static double chart(double[] samples, int count) {
        XYChart.Series<Number, Number> series = new XYChart.Series<>();
        LineChart<Number, Number> chart = new LineChart<>(new NumberAxis(), new NumberAxis());
        chart.setCreateSymbols(false);
        chart.setAnimated(false);
        chart.getData().add(series);
        Scene scene = new Scene(chart, WIDTH, HEIGHT);
        List<XYChart.Data<Number, Number>> data = new ArrayList<>();
        for (int i = 0; i < samples.length; i++) {
            data.add(new XYChart.Data<>(i, samples[i]));
        }
        series.getData().setAll(data);
        scene.snapshot(null);
        List<Double> frames = new ArrayList<>();
        for (int frame = 0; frame < count; frame++) {
            long startNs = System.nanoTime();
            // in place: the way in which a chart is cheapest
            for (int i = samples.length - samples.length / 100; i < samples.length; i++) {
                data.get(i).setYValue(samples[i] + 1e-3 * (frame % 2));
            }
            scene.snapshot(null);
            frames.add((System.nanoTime() - startNs) / 1e6);
        }
        return median(frames);
    }

    private static double median(List<Double> frames) {
        return frames.stream().sorted().toList().get(frames.size() / 2);
    }

    private static <T> T onFx(java.util.concurrent.Callable<T> work) throws Exception {
        FutureTask<T> task = new FutureTask<>(work);
        Platform.runLater(task);
        return task.get();
    }
}
