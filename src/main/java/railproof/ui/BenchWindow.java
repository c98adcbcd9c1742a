package railproof.ui;

import java.util.Objects;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicReference;
import java.util.logging.Level;
import java.util.logging.Logger;
import javafx.application.Platform;
import javafx.geometry.Rectangle2D;
import javafx.scene.Scene;
import javafx.stage.Screen;
import javafx.stage.Stage;
import org.jspecify.annotations.Nullable;
import railproof.app.Benches;
import railproof.app.ExitStatus;

/**
 * Opens the operator's window and stays until it is closed.
 *
 * <p>Thread: {@link #open} blocks its caller; once per process.
 */
public final class BenchWindow {
    private static final double FIRST_WIDTH = 1280;
    private static final double FIRST_HEIGHT = 800;
    private static final double LEAST_WIDTH = 1024;
    private static final double LEAST_HEIGHT = 700;

    /** Held, because a logger nobody holds forgets its level. */
    private static final Logger TOOLKIT = Logger.getLogger("javafx");

    private BenchWindow() {}

    /**
     * Opens the window; returns when it is closed and every run in it has ended.
     *
     * @return the status of the last run, passed if there was none
     */
    public static ExitStatus open(WindowSettings settings) throws InterruptedException {
        // it would warn of being started from the class path, which it supports well enough for this window
        TOOLKIT.setLevel(Level.SEVERE);
        CountDownLatch closed = new CountDownLatch(1);
        AtomicReference<ExitStatus> status = new AtomicReference<>(ExitStatus.PASSED);
        Platform.startup(() -> show(settings, status, closed));
        closed.await();
        Platform.exit();
        return Objects.requireNonNull(status.get());
    }

    private static void show(WindowSettings settings, AtomicReference<ExitStatus> status, CountDownLatch closed) {
        Platform.setImplicitExit(false);
        Stage stage = new Stage();
        Shell shell = new Shell(settings, Benches::open, status::set, () -> {
            stage.close();
            closed.countDown();
        });
        Rectangle2D screen = Screen.getPrimary().getVisualBounds();
        double width = Math.min(FIRST_WIDTH, screen.getWidth());
        double height = Math.min(FIRST_HEIGHT, screen.getHeight());
        Scene scene = new Scene(shell.root(), width, height);
        shell.attach(scene);
        stage.setTitle("Railproof");
        stage.setMinWidth(Math.min(LEAST_WIDTH, width));
        stage.setMinHeight(Math.min(LEAST_HEIGHT, height));
        stage.setScene(scene);
        // it is read from where one stands: all the room there is
        stage.setMaximized(true);
        stage.setOnCloseRequest(event -> {
            event.consume();
            shell.close();
        });
        stage.show();
    }

    /** Where the style sheet lies. */
    static String styleSheet() {
        java.net.@Nullable URL sheet = BenchWindow.class.getResource("/railproof/ui/window.css");
        if (sheet == null) {
            throw new IllegalStateException("the program was packed without its style sheet");
        }
        return sheet.toExternalForm();
    }
}
