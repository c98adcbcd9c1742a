package railproof.ui.plot;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.FutureTask;
import java.util.function.Supplier;
import java.util.stream.Stream;
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
 * scene into an image. Both are warmed up for as long: the first seconds are the compiler's. Prints, with what the time
 * of our frame goes to; asserts nothing about time. Needs a display.
 */
@Tag("bench")
class PlotBenchTest {
    private static final int WIDTH = 1200;
    private static final int HEIGHT = 400;
    private static final double WARM_UP_S = 4;

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
        System.out.println("  points   picture ms   (append, paint, render)   LineChart ms   (median of frames)");
        for (int points : new int[] {10_000, 100_000, 1_000_000}) {
            double[] samples = samples(points);
            double[] picture = onFx(() -> picture(samples));
            // a chart of a million points does not come to an end worth waiting for
            double chart = points > 100_000 ? Double.NaN : onFx(() -> chart(samples));
            System.out.printf(
                    "%8d   %10.2f   (%.2f, %.2f, %.2f)   %12.1f%n",
                    points, picture[0], picture[1], picture[2], picture[3], chart);
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

    /** The whole frame, and what of it goes to appending, painting and rendering. */
    private static double[] picture(double[] samples) {
        TracePicture picture = new TracePicture(WIDTH, HEIGHT);
        Scene scene = new Scene(new StackPane(new ImageView(picture.image())), WIDTH, HEIGHT);
        int first = samples.length - samples.length / 100;
        double[] grown = Arrays.copyOfRange(samples, first, samples.length);
        return frames(200, () -> {
            PeakPyramid trace = new PeakPyramid();
            trace.append(samples, first);
            long startNs = System.nanoTime();
            trace.append(grown, grown.length);
            long appendedNs = System.nanoTime();
            picture.paint(trace, -1.2, 1.2, 0xFF0B4F6C, 2);
            long paintedNs = System.nanoTime();
            scene.snapshot(null);
            long renderedNs = System.nanoTime();
            return new double[] {
                (renderedNs - startNs) / 1e6,
                (appendedNs - startNs) / 1e6,
                (paintedNs - appendedNs) / 1e6,
                (renderedNs - paintedNs) / 1e6
            };
        });
    }

    private static double chart(double[] samples) {
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
        int[] frame = {0};
        return frames(15, () -> {
            frame[0]++;
            long startNs = System.nanoTime();
            // in place: the way in which a chart is cheapest
            for (int i = samples.length - samples.length / 100; i < samples.length; i++) {
                data.get(i).setYValue(samples[i] + 1e-3 * (frame[0] % 2));
            }
            scene.snapshot(null);
            return new double[] {(System.nanoTime() - startNs) / 1e6};
        })[0];
    }

    /** Medians over so many frames, once warmed up. */
    private static double[] frames(int count, Supplier<double[]> frame) {
        long warmNs = System.nanoTime() + (long) (WARM_UP_S * 1e9);
        double[] last = frame.get();
        while (System.nanoTime() < warmNs) {
            last = frame.get();
        }
        List<double[]> all = Stream.generate(frame).limit(count).toList();
        double[] medians = new double[last.length];
        for (int part = 0; part < medians.length; part++) {
            int of = part;
            medians[part] = all.stream().mapToDouble(each -> each[of]).sorted().toArray()[count / 2];
        }
        return medians;
    }

    private static <T> T onFx(java.util.concurrent.Callable<T> work) throws Exception {
        FutureTask<T> task = new FutureTask<>(work);
        Platform.runLater(task);
        return task.get();
    }
}
