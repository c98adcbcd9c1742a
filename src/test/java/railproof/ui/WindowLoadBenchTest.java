package railproof.ui;

import java.nio.file.Path;
import java.time.Instant;
import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import javafx.animation.AnimationTimer;
import javafx.scene.input.KeyCode;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.app.BenchAccess;
import railproof.app.Benches;
import railproof.app.NamedFiles;
import railproof.app.RunRequest;
import railproof.app.RunService;
import railproof.base.BadFileException;
import railproof.base.Clock;
import railproof.rig.Operator;
import railproof.run.Stage;
import railproof.ui.plot.PeakPyramid;
import railproof.ui.plot.TracePicture;

/**
 * Whether a busy window lengthens the slices of the control loop: the time between two looks of {@code rig-control} at
 * its clock, on a simulated bench at the pace of a real one. Without a window, with one that follows the run, and with one
 * that repaints a million points and lays everything out again at every pulse. Prints; asserts nothing about time. Needs
 * a display.
 */
@Tag("bench")
class WindowLoadBenchTest {
    private static final long SECONDS = 15;

    @TempDir
    private Path data = Path.of("");

    /** Notes how long it was between two looks of the control thread. */
    private static final class Watched implements Clock {
        private final Clock clock;
        private final long[] gapsNs = new long[4_000_000];
        private int count;
        private long lastNs;

        Watched(Clock clock) {
            this.clock = clock;
        }

        @Override
        public long nowNs() {
            if (Thread.currentThread().getName().equals("rig-control")) {
                long nowNs = System.nanoTime();
                if (lastNs != 0 && count < gapsNs.length) {
                    gapsNs[count++] = nowNs - lastNs;
                }
                lastNs = nowNs;
            }
            return clock.nowNs();
        }

        @Override
        public Instant wallTime() {
            return clock.wallTime();
        }

        @Override
        public void sleepNs(long durationNs) throws InterruptedException {
            clock.sleepNs(durationNs);
        }

        void print(String what) {
            long[] sorted = Arrays.copyOf(gapsNs, count);
            Arrays.sort(sorted);
            System.out.printf(
                    "%-34s %8d looks; ms between two: p99 %6.2f, p99.9 %6.2f, p99.99 %6.2f, longest %6.2f%n",
                    what, count, at(sorted, 0.99), at(sorted, 0.999), at(sorted, 0.9999), at(sorted, 1));
        }

        private static double at(long[] sorted, double part) {
            return sorted[(int) Math.min(sorted.length - 1.0, part * sorted.length)] / 1e6;
        }
    }

    private Watched watched;

    private BenchAccess watch(RunRequest request) throws BadFileException {
        BenchAccess whole = Benches.open(new RunRequest(
                request.rig(),
                request.profile(),
                request.unitSerial(),
                request.stage(),
                request.operator(),
                request.dataDirectory(),
                request.simulatedFault(),
                true));
        watched = new Watched(whole.clock());
        return new BenchAccess(watched, (link, clock) -> whole.links().open(link, clock), true, "");
    }

    WindowLoadBenchTest() {
        watched = new Watched(railproof.base.SystemClock.INSTANCE);
    }

    @Test
    void slicesOfTheControlLoopWithAndWithoutAWindow() throws Exception {
        Locale.setDefault(Locale.ROOT);
        withoutAWindow();
        withAWindow("a window that follows the run", false);
        withAWindow("a window at its limit", true);
    }

    private void withoutAWindow() throws Exception {
        RunRequest request = new RunRequest(
                NamedFiles.rig("simulated-bench"),
                NamedFiles.profile("counter-5v"),
                "LC-1",
                Stage.AS_LEFT,
                "",
                data,
                Optional.empty(),
                true);
        RunService service = new RunService(request, watch(request));
        Thread run = new Thread(() -> {
            try {
                service.run(Operator.nobody(), event -> {});
            } catch (java.io.IOException | BadFileException e) {
                throw new IllegalStateException(e);
            }
        });
        run.start();
        new CountDownLatch(1).await(SECONDS, TimeUnit.SECONDS);
        service.stop("enough");
        run.join();
        watched.print("no window");
    }

    private void withAWindow(String what, boolean busy) throws Exception {
        try (WindowBench window = new WindowBench(
                new WindowSettings("simulated-bench", data, "", Optional.empty()), this::watch, 1280, 800)) {
            window.focused("serial");
            window.choose("profile", "counter-5v");
            window.type("LC-2");
            window.key(KeyCode.ENTER);
            window.untilShown("start");
            window.tickEverything();
            window.key(KeyCode.ENTER);
            window.untilShown("now");
            AnimationTimer painter = painter(window);
            if (busy) {
                WindowBench.onFx(() -> {
                    painter.start();
                    return true;
                });
            }
            new CountDownLatch(1).await(SECONDS, TimeUnit.SECONDS);
            WindowBench.onFx(() -> {
                painter.stop();
                return true;
            });
            window.key(KeyCode.ESCAPE);
            window.untilShown("verdict");
        }
        watched.print(what);
    }

    private static AnimationTimer painter(WindowBench window) {
        SplittableRandom random = new SplittableRandom(1975);
        double[] samples = new double[1_000_000];
        Arrays.setAll(samples, i -> Math.sin(i * 1e-3) + 0.05 * random.nextDouble());
        PeakPyramid trace = PeakPyramid.of(samples);
        TracePicture picture = new TracePicture(1200, 400);
        return new AnimationTimer() {
            @Override
            public void handle(long nowNs) {
                picture.paint(trace, -1.2, 1.2, 0xFF0B4F6C, 2);
                window.layOutAgain();
            }
        };
    }
}
