package railproof.ui;

import java.util.Optional;
import java.util.function.Consumer;
import javafx.animation.AnimationTimer;
import javafx.application.Platform;
import javafx.scene.Parent;
import javafx.scene.Scene;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.input.KeyCode;
import javafx.scene.input.KeyEvent;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;
import org.jspecify.annotations.Nullable;
import railproof.app.BenchAccess;
import railproof.app.Benches;
import railproof.app.ExitStatus;
import railproof.app.RunRequest;
import railproof.app.RunResult;
import railproof.base.BadFileException;

/**
 * The frame around every screen: what is on the bench above, the stop below, and the way from one screen to the next.
 * Escape stops from everywhere. Closing the window during a run stops the run first and closes when it is over.
 *
 * <p>Thread: JavaFX application thread.
 */
final class Shell {
    private final WindowSettings settings;
    private final Consumer<ExitStatus> status;
    private final Runnable closed;
    private final BorderPane frame = new BorderPane();
    private final Label subject = new Label();
    private final Label simulated = new Label("SIMULATED · no real unit is measured");
    private final StopBar stopBar = new StopBar(this::stop);
    private ScreenPane screen;
    private @Nullable RunSession session;
    private long shownChange = -1;
    private boolean closing;
    private boolean dark;

    Shell(WindowSettings settings, Consumer<ExitStatus> status, Runnable closed) {
        this.settings = settings;
        this.status = status;
        this.closed = closed;
        frame.getStyleClass().add("frame");
        frame.setTop(header());
        frame.setBottom(stopBar.root());
        screen = new StartPane(settings, this::checklist);
        enter(screen);
    }

    Parent root() {
        return frame;
    }

    /** Takes over the scene's keys, style and pulse. */
    void attach(Scene scene) {
        scene.getStylesheets().add(BenchWindow.styleSheet());
        scene.addEventFilter(KeyEvent.KEY_PRESSED, this::key);
        Runnable resize = () -> frame.setStyle(String.format(
                java.util.Locale.ROOT,
                "-fx-font-size: %.1fpx;",
                Math.max(12, Math.min(scene.getWidth() / 92, scene.getHeight() / 54))));
        scene.widthProperty().addListener((at, before, now) -> resize.run());
        scene.heightProperty().addListener((at, before, now) -> resize.run());
        resize.run();
        new AnimationTimer() {
            @Override
            public void handle(long nowNs) {
                pulse();
            }
        }.start();
    }

    private HBox header() {
        Label name = new Label("Railproof");
        name.getStyleClass().add("program-name");
        subject.getStyleClass().add("subject");
        simulated.getStyleClass().add("simulated-mark");
        simulated.setVisible(false);
        Region gap = new Region();
        HBox.setHgrow(gap, Priority.ALWAYS);
        Button light = new Button("Light / dark  (F6)");
        light.setId("theme");
        light.getStyleClass().add("quiet-button");
        light.setFocusTraversable(false);
        light.setOnAction(event -> theme());
        HBox header = new HBox(name, subject, gap, simulated, light);
        header.getStyleClass().add("header");
        return header;
    }

    private void key(KeyEvent event) {
        if (event.getCode() == KeyCode.ESCAPE) {
            stop();
            event.consume();
        } else if (event.getCode() == KeyCode.F6) {
            theme();
            event.consume();
        }
    }

    private void theme() {
        dark = !dark;
        frame.getStyleClass().remove("dark");
        if (dark) {
            frame.getStyleClass().add("dark");
        }
    }

    private void pulse() {
        RunSession running = session;
        if (running == null) {
            return;
        }
        RunView view = running.view();
        if (view.change() != shownChange) {
            shownChange = view.change();
            stopBar.show(view);
            screen.show(view);
        }
        if (running.over()) {
            session = null;
            finished(running, view);
        }
    }

    private void finished(RunSession run, RunView view) {
        status.accept(view.result().map(RunResult::status).orElse(ExitStatus.RIG_TROUBLE));
        if (closing) {
            closed.run();
            return;
        }
        enter(new VerdictPane(run.request(), view, () -> checklist(run.request()), this::start));
    }

    private void start() {
        subject.setText("");
        simulated.setVisible(false);
        stopBar.idle();
        enter(new StartPane(settings, this::checklist));
    }

    private void checklist(RunRequest request) {
        subject.setText(
                "Unit " + request.unitSerial() + "  ·  " + request.stage().label() + "  ·  "
                        + request.profile().profile().title());
        simulated.setVisible(request.rig().config().simulation().isPresent());
        enter(new ChecklistPane(request, () -> begin(request), this::start));
    }

    private void begin(RunRequest request) {
        try {
            BenchAccess bench = Benches.open(request);
            RunSession begun = new RunSession(request, bench);
            RunPane pane = new RunPane(request.profile().profile(), begun::answer);
            session = begun;
            shownChange = -1;
            enter(pane);
            begun.start();
        } catch (BadFileException e) {
            enter(new TroublePane(e.problems(), this::start));
        }
    }

    private void enter(ScreenPane next) {
        screen = next;
        VBox holder = new VBox(next.root());
        VBox.setVgrow(next.root(), Priority.ALWAYS);
        holder.getStyleClass().add("screen");
        frame.setCenter(holder);
        // what lies in a scroll pane can take the focus only once the pane has its skin
        frame.applyCss();
        frame.layout();
        // and only after the scene has dealt with the focus of what was just taken away
        Platform.runLater(next::focus);
    }

    private void stop() {
        Optional.ofNullable(session).ifPresent(run -> run.stop("stopped by the operator at the window"));
    }

    /** Closes the window; a run is stopped first, and closing waits for its safe state. */
    void close() {
        if (session == null) {
            closed.run();
            return;
        }
        closing = true;
        subject.setText("Closing: everything is being switched off first");
        session.stop("the window was closed");
    }
}
