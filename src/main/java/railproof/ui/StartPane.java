package railproof.ui;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ForkJoinPool;
import java.util.function.Consumer;
import javafx.application.Platform;
import javafx.collections.FXCollections;
import javafx.scene.Node;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.CheckBox;
import javafx.scene.control.ComboBox;
import javafx.scene.control.Label;
import javafx.scene.control.RadioButton;
import javafx.scene.control.TextField;
import javafx.scene.control.ToggleGroup;
import javafx.scene.layout.GridPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.VBox;
import railproof.app.NamedFiles;
import railproof.app.RunRequest;
import railproof.app.SimulationSetup;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.profile.ProfileFile;
import railproof.rig.file.BuiltInFiles;
import railproof.rig.file.Placement;
import railproof.rig.file.RigFile;
import railproof.run.Stage;

/**
 * Which unit, which profile, which bench. The serial number comes first: a scanner types it and presses Enter, and the
 * profile of the unit's last run, or of its kin, is suggested.
 */
final class StartPane implements ScreenPane {
    private static final String NO_FAULT = "none: a good unit";

    private final WindowSettings settings;
    private final Consumer<RunRequest> onward;
    private final CompletableFuture<ProfileSuggestion> suggestions;
    private final VBox root = new VBox();
    private final TextField serial = new TextField();
    private final TextField operator = new TextField();
    private final RadioButton asFound = new RadioButton("as found (before the repair)");
    private final RadioButton asLeft = new RadioButton("as left (after it)");
    private final ComboBox<String> profile = chooser("profile", BuiltInFiles.profileNames());
    private final ComboBox<String> rig = chooser("rig", BuiltInFiles.rigNames());
    private final ComboBox<String> fault = new ComboBox<>();
    private final CheckBox realTime = new CheckBox("at the pace of a real bench");
    private final Label suggestion = new Label();
    private final VBox problems = new VBox();
    private final HBox simulation = new HBox(fault, realTime);

    StartPane(WindowSettings settings, Consumer<RunRequest> onward) {
        this.settings = settings;
        this.onward = onward;
        this.suggestions = CompletableFuture.supplyAsync(() -> new ProfileSuggestion(settings.dataDirectory()));
        root.getStyleClass().add("form");
        Label title = new Label("Which unit is on the bench?");
        title.getStyleClass().add("screen-title");
        serial.setId("serial");
        serial.setPromptText("scan or type, then Enter");
        serial.getStyleClass().add("serial");
        serial.setOnAction(event -> serialEntered());
        operator.setId("operator");
        operator.setText(settings.operator());
        rig.setValue(settings.rig());
        rig.valueProperty().addListener((at, before, now) -> simulationShown());
        ToggleGroup stages = new ToggleGroup();
        asFound.setToggleGroup(stages);
        asLeft.setToggleGroup(stages);
        asLeft.setSelected(true);
        fault.setId("fault");
        List<String> faults = new ArrayList<>(List.of(NO_FAULT));
        faults.addAll(SimulationSetup.faultNames());
        fault.setItems(FXCollections.observableList(faults));
        fault.setValue(NO_FAULT);
        fault.setAccessibleText("Fault built into the simulated unit");
        realTime.setId("real-time");
        simulation.getStyleClass().add("row");
        Button go = new Button("Continue  (Enter)");
        go.setId("continue");
        go.getStyleClass().add("main-button");
        go.setOnAction(event -> proceed());
        go.setDefaultButton(true);
        problems.setId("problems");
        root.getChildren().addAll(title, grid(), go, problems);
        simulationShown();
    }

    private static ComboBox<String> chooser(String id, List<String> names) {
        ComboBox<String> box = new ComboBox<>(FXCollections.observableList(names));
        box.setId(id);
        box.setEditable(true);
        return box;
    }

    private GridPane grid() {
        GridPane grid = new GridPane();
        grid.getStyleClass().add("form-grid");
        int row = 0;
        row = add(grid, row, "Serial number", serial);
        HBox stages = new HBox(asFound, asLeft);
        stages.getStyleClass().add("row");
        row = add(grid, row, "Stage", stages);
        HBox profileRow = new HBox(profile, suggestion);
        profileRow.getStyleClass().add("row");
        suggestion.getStyleClass().add("hint");
        row = add(grid, row, "Profile (name or file)", profileRow);
        row = add(grid, row, "Bench (name or file)", rig);
        row = add(grid, row, "Operator", operator);
        add(grid, row, "Simulated fault", simulation);
        return grid;
    }

    private static int add(GridPane grid, int row, String words, Node field) {
        Label label = new Label(words);
        label.setLabelFor(field);
        if (field.getAccessibleText() == null) {
            field.setAccessibleText(words);
        }
        grid.addRow(row, label, field);
        return row + 1;
    }

    private void simulationShown() {
        boolean simulated = false;
        try {
            simulated = NamedFiles.rig(text(rig)).config().simulation().isPresent();
        } catch (BadFileException e) {
            // said in full when the operator goes on
            simulated = false;
        }
        simulation.setDisable(!simulated);
    }

    private void serialEntered() {
        String typed = serial.getText().strip();
        if (typed.isEmpty()) {
            return;
        }
        if (!text(profile).isEmpty()) {
            proceed();
            return;
        }
        // the disk is not read on the window's thread
        ForkJoinPool.commonPool().execute(() -> {
            Optional<String> suggested = suggestions.join().of(typed);
            Platform.runLater(() -> suggest(suggested));
        });
    }

    private void suggest(Optional<String> id) {
        if (id.isPresent()) {
            profile.setValue(id.get());
            suggestion.setText("suggested by earlier runs; Enter to accept");
        } else {
            suggestion.setText("no earlier run of this kind: choose a profile");
        }
        profile.requestFocus();
    }

    private static String text(ComboBox<String> box) {
        // the editor of a box that was never shown is empty, whatever its value
        String typed = box.getEditor().getText();
        String chosen = typed == null || typed.isBlank() ? box.getValue() : typed;
        return chosen == null ? "" : chosen.strip();
    }

    private void proceed() {
        List<Problem> found = new ArrayList<>();
        if (serial.getText().isBlank()) {
            found.add(new Problem("serial number", 0, 0, "", "is empty; scan or type it"));
        }
        Optional<ProfileFile> profileFile = Optional.empty();
        Optional<RigFile> rigFile = Optional.empty();
        try {
            profileFile = Optional.of(NamedFiles.profile(text(profile)));
        } catch (BadFileException e) {
            found.addAll(e.problems());
        }
        try {
            rigFile = Optional.of(NamedFiles.rig(text(rig)));
        } catch (BadFileException e) {
            found.addAll(e.problems());
        }
        if (profileFile.isPresent() && rigFile.isPresent()) {
            found.addAll(Placement.of(rigFile.get().config(), profileFile.get().profile())
                    .problems());
        }
        if (found.isEmpty() && profileFile.isPresent() && rigFile.isPresent()) {
            onward.accept(request(profileFile.get(), rigFile.get()));
        } else {
            tell(found);
        }
    }

    private RunRequest request(ProfileFile profileFile, RigFile rigFile) {
        boolean simulated = rigFile.config().simulation().isPresent();
        String broken = fault.getValue();
        return new RunRequest(
                rigFile,
                profileFile,
                serial.getText().strip(),
                asFound.isSelected() ? Stage.AS_FOUND : Stage.AS_LEFT,
                operator.getText().strip(),
                settings.dataDirectory(),
                simulated && !broken.equals(NO_FAULT) ? Optional.of(broken) : Optional.empty(),
                simulated && realTime.isSelected());
    }

    private void tell(List<Problem> found) {
        problems.getChildren().clear();
        for (Problem problem : found) {
            Label line = new Label(problem.text());
            line.setWrapText(true);
            line.getStyleClass().add("problem");
            problems.getChildren().add(line);
        }
    }

    @Override
    public Parent root() {
        return root;
    }

    @Override
    public void focus() {
        serial.requestFocus();
    }
}
