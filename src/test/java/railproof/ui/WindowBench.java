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
import javafx.scene.Node;
import javafx.scene.Scene;
import javafx.scene.control.Labeled;
import javafx.scene.image.WritableImage;
import javafx.scene.input.KeyCode;
import javafx.scene.robot.Robot;
import javafx.stage.Stage;
import javax.imageio.ImageIO;
import railproof.app.Benches;
import railproof.app.ExitStatus;

/** A window on a virtual display, worked by real key events, with pictures of what it shows. */
final class WindowBench implements AutoCloseable {
    private static final AtomicBoolean STARTED = new AtomicBoolean();
    private static final long PATIENCE_MS = 240_000;
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

    /** Types like a barcode scanner: capital letters, digits and dashes. */
    void type(String text) throws Exception {
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            boolean letter = Character.isLetter(c);
            KeyCode code = c == '-' ? KeyCode.MINUS : KeyCode.getKeyCode(String.valueOf(c));
            onFx(() -> {
                if (letter) {
                    robot.keyPress(KeyCode.SHIFT);
                }
                robot.keyType(code);
                if (letter) {
                    robot.keyRelease(KeyCode.SHIFT);
                }
                return true;
            });
        }
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

    private boolean focusWithin(String id) {
        Node node = shell.root().lookup("#" + id);
        return node != null && node.isFocusWithin();
    }

    /** What a label or button says. */
    String text(String id) throws Exception {
        return onFx(() -> ((Labeled) lookup(id)).getText());
    }

    void until(String what, Callable<Boolean> holds) throws Exception {
        for (long waitedMs = 0; waitedMs < PATIENCE_MS; waitedMs += 50) {
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
            BufferedImage image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
            for (int y = 0; y < height; y++) {
                for (int x = 0; x < width; x++) {
                    image.setRGB(x, y, shot.getPixelReader().getArgb(x, y));
                }
            }
            return image;
        });
        try {
            Path file = Files.createDirectories(PICTURES).resolve(name + ".png");
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
