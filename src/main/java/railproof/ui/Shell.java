package railproof.ui;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import javafx.animation.AnimationTimer;
import javafx.application.Platform;
import javafx.scene.Node;
import javafx.scene.Parent;
import javafx.scene.Scene;
import javafx.scene.control.Button;
import javafx.scene.control.ButtonBase;
import javafx.scene.control.ComboBox;
import javafx.scene.input.KeyCode;
import javafx.scene.input.KeyEvent;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.Priority;
import javafx.scene.layout.VBox;
import org.jspecify.annotations.Nullable;
import railproof.app.Archiving;
import railproof.app.BenchAccess;
import railproof.app.ExitStatus;
import railproof.app.NamedFiles;
import railproof.app.RunRequest;
import railproof.base.BadFileException;
import railproof.record.RecordException;

/**
 * The frame around every screen: the ways between them above, the stop below. Escape stops from everywhere. What has the
 * instruments goes on while other screens are looked at. Closing the window stops it first and closes when it is over.
 *
 * <p>Thread: JavaFX application thread, but for {@link #archiving} and {@link #alarm}.
 */
final class Shell implements Window {
    private final WindowSettings settings;
    private final BenchSource benches;
    private final Consumer<ExitStatus> status;
    private final Runnable closed;
    private final BorderPane frame = new BorderPane();
    private final Header header = new Header(this::go, this::theme, this::seen);
    private final StopBar stopBar = new StopBar(this::stop);
    private final AlarmBell bell = new AlarmBell();
    private final Alarms alarms = new Alarms(bell::ring);
    private final Map<Place, ScreenPane> screens = new EnumMap<>(Place.class);
    private final FilesPane files;
    private Place here = Place.TEST;
    private @Nullable BenchWork work;
    private Runnable whenOver = () -> {};
    private long shownAlarms = -1;
    private String news = "";
    private Place newsAt = Place.TEST;
    private boolean closing;
    private boolean dark;

    /** Says where a request's instruments are. */
    @FunctionalInterface
    interface BenchSource {
        BenchAccess open(RunRequest request) throws BadFileException;
    }

    Shell(WindowSettings settings, BenchSource benches, Consumer<ExitStatus> status, Runnable closed) {
        this.settings = settings;
        this.benches = benches;
        this.status = status;
        this.closed = closed;
        frame.getStyleClass().add("frame");
        frame.setTop(header.root());
        frame.setBottom(stopBar.root());
        NextSteps[] steps = new NextSteps[1];
        BurnInPane wall = new BurnInPane(this, () -> steps[0]);
        steps[0] = new NextSteps(this, wall);
        files = new FilesPane(settings);
        screens.put(Place.BURN_IN, wall);
        screens.put(Place.HISTORY, new HistoryPane(this, steps[0]));
        screens.put(Place.RIG, new RigPane(this));
        screens.put(Place.FILES, files);
        new TestFlow(this, steps[0]).start();
        settings.file().ifPresent(file -> {
            files.open(file);
            go(Place.FILES);
        });
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

    private void key(KeyEvent event) {
        KeyCode code = event.getCode();
        Optional<Place> way = java.util.Arrays.stream(Place.values())
                .filter(place -> place.key() == code)
                .findFirst();
        if (code == KeyCode.ESCAPE) {
            stop();
            event.consume();
        } else if (code == KeyCode.F6) {
            theme();
            event.consume();
        } else if (code == KeyCode.F8) {
            seen();
            event.consume();
        } else if (way.isPresent()) {
            go(way.get());
            event.consume();
        } else if (code == KeyCode.DOWN && focused() instanceof ComboBox<?> box && !box.isShowing()) {
            // by itself it would take the next entry unseen, or do nothing where names can be typed
            box.show();
            event.consume();
        } else if (code == KeyCode.ENTER && focused() instanceof Button button) {
            // Enter presses the button that has the keyboard, not another one, and none of a screen that is gone: a key
            // pressed while the next screen is made would press it a second time
            if (button.getScene() == frame.getScene()) {
                button.fire();
            }
            event.consume();
        } else if (code == KeyCode.ENTER && focused() instanceof ButtonBase) {
            // Space ticks and Enter goes on: one key for both, held down, would go through a checklist and switch on
            goOn();
            event.consume();
        }
    }

    /** Presses the button that Enter presses wherever nothing else has a use for it. */
    private void goOn() {
        frame.getCenter().lookupAll(".main-button").stream()
                .filter(Button.class::isInstance)
                .map(Button.class::cast)
                .filter(Button::isDefaultButton)
                .findFirst()
                .ifPresent(Button::fire);
    }

    private @Nullable Node focused() {
        return frame.getScene().getFocusOwner();
    }

    private void theme() {
        dark = !dark;
        frame.getStyleClass().remove("dark");
        if (dark) {
            frame.getStyleClass().add("dark");
        }
        // pictures painted pixel by pixel take their colour when they are laid out
        relayout(frame);
    }

    private static void relayout(Node node) {
        if (node instanceof Parent parent) {
            parent.getChildrenUnmodifiable().forEach(Shell::relayout);
            parent.requestLayout();
        }
    }

    private void pulse() {
        BenchWork running = work;
        if (running != null) {
            stopBar.show(running.power());
            if (running.over()) {
                release(running);
            }
        }
        screen().pulse();
        above();
        if (alarms.change() != shownAlarms) {
            shownAlarms = alarms.change();
            header.alarms(alarms.open(), bell.deaf());
        }
    }

    /** What stands above every screen. */
    private void above() {
        if (!closing) {
            header.subject(screen().subject());
        }
        header.wants(wants());
        header.simulated(screen().simulated() || (work != null && work.simulated()));
    }

    /** What goes on or asks elsewhere, said on every other screen. */
    private String wants() {
        BenchWork running = work;
        if (running == null) {
            return news;
        }
        Place home = home(running);
        if (home == here) {
            return "";
        }
        String way = home.words() + ", " + home.key().getName();
        return running.wants().isEmpty()
                ? "Under way: " + running.words() + " (" + way + ")"
                : "ASKS FOR YOU (" + way + "): " + running.wants();
    }

    private static Place home(BenchWork running) {
        return running instanceof RunSession ? Place.TEST : running instanceof BurnInWork ? Place.BURN_IN : Place.RIG;
    }

    private void release(BenchWork over) {
        work = null;
        status.accept(over.status());
        stopBar.show(over.power());
        if (closing) {
            shut();
            return;
        }
        Place home = home(over);
        news = home == here
                ? ""
                : "Over: " + over.words() + " (" + home.words() + ", "
                        + home.key().getName() + ")";
        newsAt = home;
        whenOver.run();
    }

    private ScreenPane screen() {
        ScreenPane screen = screens.get(here);
        if (screen == null) {
            throw new IllegalStateException("nothing is shown at " + here);
        }
        return screen;
    }

    @Override
    public WindowSettings settings() {
        return settings;
    }

    @Override
    public Archiving archiving() throws BadFileException {
        Optional<String> url;
        try {
            url = NamedFiles.rig(settings.rig()).config().archiveUrl();
        } catch (BadFileException e) {
            // a rig file that cannot be used must not hide the records that are there
            url = Optional.empty();
        }
        return new Archiving(
                settings.dataDirectory(), Archiving.address(Optional.empty(), url, settings.dataDirectory()));
    }

    @Override
    public BenchAccess bench(RunRequest request) throws BadFileException {
        return benches.open(request);
    }

    @Override
    public String take(BenchWork next, Runnable onOver) {
        if (work != null) {
            return "The instruments are in use: " + work.words() + " is under way ("
                    + home(work).key().getName() + "). It can go on, or be stopped with Escape.";
        }
        work = next;
        whenOver = onOver;
        return "";
    }

    @Override
    public void alarm(String words) {
        alarms.raise(words);
    }

    private void seen() {
        alarms.seen();
    }

    @Override
    public void put(Place place, ScreenPane next) {
        ScreenPane before = screens.put(place, next);
        if (place == here) {
            if (before != null && before != next) {
                before.left();
            }
            show();
        }
    }

    @Override
    public void go(Place place) {
        if (place != here) {
            screen().left();
            here = place;
            if (place == newsAt) {
                news = "";
            }
            show();
        }
    }

    private void show() {
        ScreenPane next = screen();
        header.at(here);
        next.entered();
        VBox holder = new VBox(next.root());
        VBox.setVgrow(next.root(), Priority.ALWAYS);
        holder.getStyleClass().add("screen");
        frame.setCenter(holder);
        next.pulse();
        above();
        // what lies in a scroll pane can take the focus only once the pane has its skin
        frame.applyCss();
        frame.layout();
        // and only after the scene has dealt with the focus of what was just taken away
        Platform.runLater(next::focus);
    }

    private void stop() {
        Optional.ofNullable(work).ifPresent(running -> running.stop("stopped by the operator at the window"));
    }

    /** Closes the window; what has the instruments is stopped first, and closing waits for its safe state. */
    void close() {
        if (work == null) {
            shut();
            return;
        }
        closing = true;
        header.subject("Closing: everything is being switched off first");
        work.stop("the window was closed");
    }

    private void shut() {
        bell.close();
        try {
            files.closing();
        } catch (RecordException e) {
            System.getLogger("railproof.ui").log(System.Logger.Level.ERROR, "a draft could not be kept", e);
        }
        closed.run();
    }
}
