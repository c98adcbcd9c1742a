package railproof.ui;

import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Objects;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.FutureTask;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicReference;
import javafx.application.Platform;
import javafx.geometry.Bounds;
import javafx.scene.Node;
import javafx.scene.Scene;
import javafx.scene.control.ComboBox;
import javafx.scene.control.Labeled;
import javafx.scene.image.PixelFormat;
import javafx.scene.image.WritableImage;
import javafx.scene.input.KeyCode;
import javafx.scene.input.MouseButton;
import javafx.scene.robot.Robot;
import javafx.stage.Stage;
import javax.imageio.ImageIO;
import railproof.app.Benches;
import railproof.app.ExitStatus;
import railproof.rig.file.BuiltInFiles;

/** A window on a virtual display, worked by real key events, with pictures of what it shows. */
final class WindowBench implements AutoCloseable {
    private static final AtomicBoolean STARTED = new AtomicBoolean();
    private static final long PATIENCE_MS = 150_000;
    private static final int MOST_TABS = 60;
    private static final long MOVE_MS = 3000;
    private static final Path PICTURES = Path.of(System.getProperty("railproof.build.dir", "target"), "window");

    private final AtomicReference<ExitStatus> status = new AtomicReference<>(ExitStatus.PASSED);
    private final CountDownLatch closed = new CountDownLatch(1);
    private final Stage stage;
    private final Shell shell;
    private final Robot robot;

    WindowBench(WindowSettings settings, int width, int height) throws Exception {
        this(settings, Benches::open, width, height);
    }

    WindowBench(WindowSettings settings, Shell.BenchSource benches, int width, int height) throws Exception {
        if (STARTED.compareAndSet(false, true)) {
            CountDownLatch ready = new CountDownLatch(1);
            Platform.startup(ready::countDown);
            ready.await();
            onFx(() -> {
                Platform.setImplicitExit(false);
                return true;
            });
        }
        stage = onFx(Stage::new);
        shell = onFx(() -> new Shell(settings, benches, status::set, () -> {
            stage.close();
            closed.countDown();
        }));
        robot = onFx(Robot::new);
        onFx(() -> {
            Scene scene = new Scene(shell.root(), width, height);
            shell.attach(scene);
            stage.setScene(scene);
            stage.setX(0);
            stage.setY(0);
            stage.show();
            stage.requestFocus();
            return true;
        });
        until("the window has the keyboard", stage::isFocused);
    }

    static <T> T onFx(Callable<T> work) throws Exception {
        FutureTask<T> task = new FutureTask<>(work);
        Platform.runLater(task);
        try {
            return task.get(PATIENCE_MS, TimeUnit.MILLISECONDS);
        } catch (ExecutionException | TimeoutException e) {
            throw new AssertionError("the window's thread did not do it", e);
        }
    }

    ExitStatus status() {
        return Objects.requireNonNull(status.get());
    }

    void key(KeyCode code) throws Exception {
        onFx(() -> {
            robot.keyType(code);
            return true;
        });
    }

    void key(KeyCode held, KeyCode code) throws Exception {
        onFx(() -> {
            robot.keyPress(held);
            robot.keyType(code);
            robot.keyRelease(held);
            return true;
        });
    }

    /** Types as a keyboard of the United States does, or a barcode scanner that says it is one. */
    void type(String text) throws Exception {
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            int place = "_%+:".indexOf(c);
            KeyCode code =
                    switch (c) {
                        case '-', '_' -> KeyCode.MINUS;
                        case '+' -> KeyCode.EQUALS;
                        case '%' -> KeyCode.DIGIT5;
                        case ':' -> KeyCode.SEMICOLON;
                        case '.' -> KeyCode.PERIOD;
                        case '/' -> KeyCode.SLASH;
                        case ' ' -> KeyCode.SPACE;
                        default -> KeyCode.getKeyCode(String.valueOf(Character.toUpperCase(c)));
                    };
            if (place >= 0 || Character.isUpperCase(c)) {
                key(KeyCode.SHIFT, code);
            } else {
                key(code);
            }
        }
    }

    /** Presses Tab until a part has the keyboard: what cannot be reached like that cannot be used without a mouse. */
    void tabTo(String id) throws Exception {
        for (int i = 0; i < MOST_TABS && !focusedOn(id); i++) {
            moveOn(KeyCode.TAB);
        }
        if (!focusedOn(id)) {
            picture("gave-up");
            throw new AssertionError("#" + id + " is not reached by Tab");
        }
    }

    /** Reaches a button by Tab and presses it with Enter. */
    void press(String id) throws Exception {
        tabTo(id);
        key(KeyCode.ENTER);
    }

    /** Clicks in the middle of a part. */
    void click(String id) throws Exception {
        onFx(() -> {
            Bounds at = lookup(id).localToScreen(lookup(id).getBoundsInLocal());
            robot.mouseMove(at.getCenterX(), at.getCenterY());
            robot.mouseClick(MouseButton.PRIMARY);
            return true;
        });
    }

    /** Chooses in a box, as if from its list. */
    @SuppressWarnings("unchecked") // the boxes of this window that are chosen from in tests hold names
    void choose(String id, String value) throws Exception {
        onFx(() -> {
            ((ComboBox<String>) lookup(id)).setValue(value);
            return true;
        });
    }

    /** Fills in a unit, goes through the checklist, and waits for what follows it. */
    void begin(String serial, String profile, String shown) throws Exception {
        focused("serial");
        choose("profile", profile);
        type(serial);
        key(KeyCode.ENTER);
        untilShown("start");
        tickEverything();
        key(KeyCode.ENTER);
        untilShown(shown);
    }

    /** Calibrates the rig that is checked, against a reference meter, on the screen it was checked on. */
    void calibrate() throws Exception {
        tabTo("reference");
        type("METER 34 NO 7");
        tabTo("reference-u");
        type("0.003 % + 0.0002");
        press("calibrate");
        untilSays("calibration-lines", "Calibrated:");
    }

    /** The simulated bench's rig file, with a calibration file beside it that is still to be made. */
    static Path toBeCalibrated(Path rig) throws IOException {
        return Files.writeString(
                rig,
                BuiltInFiles.rig("simulated-bench")
                        .source()
                        .text()
                        .replaceFirst("(?m)^title = ", "calibration_file = \"bench.calibration.toml\"\ntitle = "));
    }

    /** Ticks a checklist with the space bar, down to what comes after it. */
    void tickEverything() throws Exception {
        for (int i = 0; i < MOST_TABS && !focusedOn("start") && !focusedOn("second-step"); i++) {
            moveOn(KeyCode.SPACE);
        }
    }

    /** Presses a key that moves the keyboard on, and waits until it has: events take their time through the display. */
    private void moveOn(KeyCode code) throws Exception {
        Node before = onFx(() -> stage.getScene().getFocusOwner());
        key(code);
        for (long waitedMs = 0; waitedMs < MOVE_MS; waitedMs += 20) {
            if (onFx(() -> stage.getScene().getFocusOwner() != before)) {
                return;
            }
            new CountDownLatch(1).await(20, TimeUnit.MILLISECONDS);
        }
    }

    boolean shows(String id) throws Exception {
        return onFx(() -> {
            Node node = shell.root().lookup("#" + id);
            return node != null && NodeWalk.seen(node);
        });
    }

    /** Lays the whole window out again and draws it once more; on the window's thread. */
    void layOutAgain() {
        shell.root().applyCss();
        shell.root().requestLayout();
        shell.root().layout();
        stage.getScene().snapshot(null);
    }

    /** The window's content, on its own thread. */
    <T> T look(java.util.function.Function<javafx.scene.Parent, T> at) throws Exception {
        return onFx(() -> at.apply(shell.root()));
    }

    /** As if the person at the window dragged its edge. */
    void resize(int width, int height) throws Exception {
        onFx(() -> {
            stage.setWidth(width);
            stage.setHeight(height);
            return true;
        });
        until("the window is as large", () -> Math.abs(stage.getScene().getWidth() - width) < 2);
    }

    /** A part of the screen; to be called on the window's thread. */
    Node lookup(String id) {
        Node node = shell.root().lookup("#" + id);
        if (node == null) {
            throw new AssertionError("#" + id + " is not on the screen");
        }
        return node;
    }

    /** A part of the screen, from any thread. */
    Node node(String id) throws Exception {
        return Platform.isFxApplicationThread() ? lookup(id) : onFx(() -> lookup(id));
    }

    boolean focusedOn(String id) throws Exception {
        return onFx(() -> focusWithin(id));
    }

    /** By the scene's own word: a node's focusWithin stays true after some changes around it. */
    private boolean focusWithin(String id) {
        for (Node each = stage.getScene().getFocusOwner(); each != null; each = each.getParent()) {
            if (id.equals(each.getId())) {
                return true;
            }
        }
        return false;
    }

    /** What a label or button says. */
    String text(String id) throws Exception {
        return onFx(() -> ((Labeled) lookup(id)).getText());
    }

    void until(String what, Callable<Boolean> holds) throws Exception {
        long endNs = System.nanoTime() + PATIENCE_MS * 1_000_000L;
        while (System.nanoTime() < endNs) {
            if (onFx(holds)) {
                return;
            }
            new CountDownLatch(1).await(50, TimeUnit.MILLISECONDS);
        }
        picture("gave-up");
        throw new AssertionError("waited in vain until " + what);
    }

    /** Waits for a screen by one of its parts. */
    void untilShown(String id) throws Exception {
        until("#" + id + " is shown", () -> shell.root().lookup("#" + id) != null);
    }

    void untilSays(String id, String part) throws Exception {
        until(
                "#" + id + " says " + part,
                () -> shell.root().lookup("#" + id) instanceof Labeled label
                        && label.getText().contains(part));
    }

    void focused(String id) throws Exception {
        until("#" + id + " has the keyboard", () -> focusWithin(id));
    }

    void requestClose() throws Exception {
        onFx(() -> {
            shell.close();
            return true;
        });
    }

    void untilClosed() throws InterruptedException {
        if (!closed.await(PATIENCE_MS, TimeUnit.MILLISECONDS)) {
            throw new AssertionError("the window did not close");
        }
    }

    /** Keeps a picture of the whole window. */
    Path picture(String name) throws Exception {
        BufferedImage picture = onFx(() -> {
            WritableImage shot = stage.getScene().snapshot(null);
            int width = (int) shot.getWidth();
            int height = (int) shot.getHeight();
            int[] pixels = new int[width * height];
            shot.getPixelReader().getPixels(0, 0, width, height, PixelFormat.getIntArgbInstance(), pixels, 0, width);
            BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
            image.setRGB(0, 0, width, height, pixels, 0, width);
            return image;
        });
        try {
            Path file = PICTURES.resolve(name + ".png");
            Files.createDirectories(Objects.requireNonNull(file.getParent()));
            ImageIO.write(picture, "png", file.toFile());
            return file;
        } catch (IOException e) {
            throw new AssertionError("no picture", e);
        }
    }

    /** Closes the window and waits until nothing works behind it any more. */
    @Override
    public void close() {
        Platform.runLater(shell::close);
        try {
            untilClosed();
            for (long waitedMs = 0; waitedMs < PATIENCE_MS && working(); waitedMs += 20) {
                new CountDownLatch(1).await(20, TimeUnit.MILLISECONDS);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private static boolean working() {
        return Thread.getAllStackTraces().keySet().stream()
                .map(Thread::getName)
                .anyMatch(name -> name.matches("window-(run|work|burn-in|rig).*"));
    }
}
