package railproof.ui;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.ScrollPane;
import javafx.scene.control.TextField;
import javafx.scene.control.TextInputControl;
import javafx.scene.input.KeyEvent;
import javafx.scene.layout.ColumnConstraints;
import javafx.scene.layout.GridPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.RowConstraints;
import javafx.scene.layout.VBox;
import railproof.app.BurnInRequest;
import railproof.app.RunRequest;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.profile.BurnInPlan;
import railproof.run.RunOutcome;
import railproof.run.Section;
import railproof.run.Stage;

/**
 * The burn-in wall: a tile for every unit, and the form that adds one. Units come and go while others stay; a digit leads
 * to the tile of that number.
 */
final class BurnInPane implements ScreenPane {
    private static final double MS_PER_HOUR = 3_600_000;
    private static final double LEAST_HOURS = 0.01;

    private final Window window;
    private final Supplier<NextSteps> steps;
    private final VBox root = new VBox();
    private final VBox form = new VBox();
    private final UnitForm unitForm;
    private final TextField hours = new TextField();
    private final TextField resume = new TextField();
    private final VBox problems = new VBox();
    private final GridPane wall = new GridPane();
    private final Button add = Forms.button("add-unit", "Add a unit", () -> showForm(true));
    private final Button toWall = Forms.button("to-wall", "To the wall", () -> showForm(false));
    private final List<BurnInTile> tiles = new ArrayList<>();
    private BurnInWork work = new BurnInWork();
    private final ScrollPane scroll;
    private final HBox top;
    private boolean held;
    private boolean formShown = true;

    BurnInPane(Window window, Supplier<NextSteps> steps) {
        this.window = window;
        this.steps = steps;
        this.unitForm = new UnitForm(window.settings(), this::proceed, problems.getChildren()::clear);
        root.getStyleClass().add("form");
        hours.setId("hours");
        hours.setPromptText("as the profile says");
        resume.setId("resume");
        resume.setPromptText("only after a crash: the run folder that broke off");
        form.setId("burn-in-form");
        form.getStyleClass().add("ticks");
        GridPane grid = Forms.grid();
        unitForm.serialRow(grid);
        Forms.field(grid, "Hours under load", hours);
        unitForm.otherRows(grid);
        Forms.field(grid, "Take up again", resume);
        problems.setId("burn-in-problems");
        form.getChildren()
                .addAll(
                        grid,
                        problems,
                        Forms.row(Forms.mainButton("burn-in-continue", "Continue  (Enter)", this::proceed), toWall));
        wall.setId("wall");
        wall.getStyleClass().add("wall");
        scroll = Forms.scroll(wall);
        scroll.setFitToHeight(true);
        VBox.setVgrow(scroll, Priority.ALWAYS);
        top = Forms.row(Forms.title("Burn-in"), add);
        root.addEventHandler(KeyEvent.KEY_PRESSED, this::digit);
        showForm(true);
    }

    private void digit(KeyEvent event) {
        int number = event.getText().length() == 1 ? event.getText().charAt(0) - '0' : 0;
        boolean typing = event.getTarget() instanceof TextInputControl;
        if (!typing && number >= 1 && number <= tiles.size()) {
            tiles.get(number - 1).focus();
            event.consume();
        }
    }

    private void showForm(boolean shown) {
        formShown = shown || tiles.isEmpty();
        Forms.show(add, !formShown);
        Forms.show(toWall, !tiles.isEmpty());
        // what is not shown leaves the screen: Enter would press its main button otherwise
        root.getChildren().setAll(top, formShown ? form : scroll);
        if (root.getScene() != null) {
            focus();
        }
    }

    /** Fills the form with the unit of a run; with a burn-in that broke off, to take it up again. */
    void fill(KeptRun run) {
        unitForm.fill(run.unit(), profileName(run));
        boolean brokeOff = run.run().outcome().end() == RunOutcome.End.INCOMPLETE
                && run.run().points().stream().anyMatch(point -> point.section() == Section.BURN_IN);
        resume.setText(brokeOff ? run.folder().toString() : "");
        showForm(true);
    }

    /** As the profile was named, so that it is found again. */
    private static String profileName(KeptRun run) {
        return run.run().header().profile().name().replaceFirst("^built in: ", "");
    }

    private void proceed() {
        List<Problem> found = new ArrayList<>();
        Optional<Duration> time = time(found);
        Optional<Path> folder = folder(found);
        Optional<RunRequest> request = unitForm.read(Stage.AS_LEFT, found);
        if (found.isEmpty() && request.isPresent()) {
            try {
                BurnInRequest asked = new BurnInRequest(request.get(), time, folder);
                work.requireApart(asked);
                window.put(
                        Place.BURN_IN,
                        new ChecklistPane(request.get(), () -> begin(asked), () -> window.put(Place.BURN_IN, this)));
            } catch (BadFileException e) {
                found.addAll(e.problems());
            }
        }
        Forms.tell(problems, found.stream().map(Problem::text).toList());
    }

    private Optional<Duration> time(List<Problem> found) {
        String typed = hours.getText().strip();
        if (typed.isEmpty()) {
            return Optional.empty();
        }
        try {
            double h = Double.parseDouble(typed.replace(',', '.'));
            if (h >= LEAST_HOURS && h <= BurnInPlan.MOST_HOURS) {
                return Optional.of(Duration.ofMillis(Math.round(h * MS_PER_HOUR)));
            }
        } catch (NumberFormatException e) {
            // said below, as for a number out of range
        }
        found.add(new Problem(
                "hours under load",
                0,
                0,
                "",
                "must be a number from " + LEAST_HOURS + " to " + BurnInPlan.MOST_HOURS + "; found \"" + typed + "\""));
        return Optional.empty();
    }

    private Optional<Path> folder(List<Problem> found) {
        String typed = resume.getText().strip();
        try {
            return typed.isEmpty() ? Optional.empty() : Optional.of(Path.of(typed));
        } catch (InvalidPathException e) {
            found.add(new Problem("take up again", 0, 0, "", "this cannot be a folder's name: " + typed));
            return Optional.empty();
        }
    }

    private void begin(BurnInRequest asked) {
        window.put(Place.BURN_IN, this);
        try {
            if (!held) {
                BurnInWork next = new BurnInWork();
                // those that are over stay on the wall until they are taken off
                work.units().forEach(next::add);
                BurnInUnit unit = new BurnInUnit(asked, window::alarm);
                next.add(unit);
                String refusal = window.take(next, () -> held = false);
                if (!refusal.isEmpty()) {
                    Forms.tell(problems, List.of(refusal));
                    return;
                }
                held = true;
                work = next;
                join(unit);
            } else {
                BurnInUnit unit = new BurnInUnit(asked, window::alarm);
                work.add(unit);
                join(unit);
            }
        } catch (BadFileException e) {
            Forms.tell(problems, Aside.words(e));
        }
    }

    private void join(BurnInUnit unit) {
        unit.start();
        unitForm.clear();
        resume.clear();
        build();
        showForm(false);
        tiles.get(tiles.size() - 1).focus();
    }

    private void remove(BurnInUnit unit) {
        work.remove(unit);
        build();
        showForm(tiles.isEmpty());
    }

    private void open(KeptRun run) {
        VerdictPane.Next back =
                new VerdictPane.Next("back", "Back to the wall  (Enter)", () -> window.put(Place.BURN_IN, this));
        steps.get().verdict(Place.BURN_IN, Optional.of(run), "", back, List.of());
    }

    /** Lays the tiles out: beside one another as long as each is wide enough to be read from where one stands. */
    private void build() {
        tiles.clear();
        wall.getChildren().clear();
        wall.getColumnConstraints().clear();
        wall.getRowConstraints().clear();
        List<BurnInUnit> units = work.units();
        int columns = units.size() <= 1 ? 1 : units.size() <= 4 ? 2 : 3;
        for (int i = 0; i < units.size(); i++) {
            BurnInUnit unit = units.get(i);
            BurnInTile tile = new BurnInTile(i + 1, unit, this::open, () -> remove(unit));
            tiles.add(tile);
            wall.add(tile.root(), i % columns, i / columns);
        }
        for (int column = 0; column < columns; column++) {
            ColumnConstraints wide = new ColumnConstraints();
            wide.setPercentWidth(100.0 / columns);
            wall.getColumnConstraints().add(wide);
        }
        for (int row = 0; row * columns < units.size(); row++) {
            RowConstraints high = new RowConstraints();
            high.setVgrow(Priority.ALWAYS);
            wall.getRowConstraints().add(high);
        }
    }

    @Override
    public void pulse() {
        tiles.forEach(BurnInTile::pulse);
    }

    @Override
    public Parent root() {
        return root;
    }

    @Override
    public void focus() {
        if (formShown) {
            unitForm.focus();
        } else if (!tiles.isEmpty()) {
            tiles.get(0).focus();
        }
    }

    @Override
    public String subject() {
        return tiles.isEmpty() ? "" : tiles.size() + (tiles.size() == 1 ? " unit" : " units") + " on the wall";
    }

    @Override
    public boolean simulated() {
        return work.simulated();
    }
}
