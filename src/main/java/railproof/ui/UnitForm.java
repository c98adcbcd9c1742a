package railproof.ui;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javafx.collections.FXCollections;
import javafx.scene.control.Button;
import javafx.scene.control.CheckBox;
import javafx.scene.control.ComboBox;
import javafx.scene.control.Label;
import javafx.scene.control.TextField;
import javafx.scene.layout.GridPane;
import javafx.scene.layout.HBox;
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
 * Which unit, which profile, which bench: what a test and a burn-in both ask for. The serial number comes first: a
 * scanner types it and presses Enter, and the profile of the unit's last run, or of its kin, is suggested.
 */
final class UnitForm {
    private static final String NO_FAULT = "none: a good unit";
    private static final String SIMULATED_BENCH = "simulated-bench";

    private final Path data;
    private final Runnable onComplete;
    private final Runnable onChange;
    private final TextField serial = new TextField();
    private final TextField operator = new TextField();
    private final ComboBox<String> profile = chooser("profile", "Profile, name or file", BuiltInFiles.profileNames());
    private final ComboBox<String> rig = chooser("rig", "Bench, name or file", BuiltInFiles.rigNames());
    private final Button simulatedBench;
    private final ComboBox<String> fault = new ComboBox<>();
    private final CheckBox realTime = new CheckBox("at the pace of a real bench");
    private final Label suggestion = Forms.hint("");
    private final HBox simulation = Forms.row(fault, realTime);

    /**
     * An empty form.
     *
     * @param onComplete the operator has scanned a serial number and there is a profile already
     * @param onChange what was filled in has changed: what was said of it before need not hold any more
     */
    UnitForm(WindowSettings settings, Runnable onComplete, Runnable onChange) {
        this.data = settings.dataDirectory();
        this.onComplete = onComplete;
        this.onChange = onChange;
        serial.setId("serial");
        serial.setAccessibleText("Serial number");
        serial.setPromptText("scan or type, then Enter");
        serial.getStyleClass().add("serial");
        serial.textProperty().addListener((at, before, now) -> onChange.run());
        serial.setOnAction(event -> serialEntered());
        operator.setId("operator");
        operator.setText(settings.operator());
        rig.setValue(settings.rig());
        rig.valueProperty().addListener((at, before, now) -> {
            simulationShown();
            onChange.run();
        });
        simulatedBench = Forms.button("simulated", "Use the simulated bench", () -> rig.setValue(SIMULATED_BENCH));
        fault.setId("fault");
        List<String> faults = new ArrayList<>(List.of(NO_FAULT));
        faults.addAll(SimulationSetup.faultNames());
        fault.setItems(FXCollections.observableList(faults));
        fault.setValue(NO_FAULT);
        fault.setAccessibleText("Fault built into the simulated unit");
        realTime.setId("real-time");
        realTime.setAccessibleText("Simulated bench at the pace of a real one");
        profile.getEditor().textProperty().addListener((at, before, now) -> profileShown());
        simulationShown();
    }

    private static ComboBox<String> chooser(String id, String accessibleText, List<String> names) {
        ComboBox<String> box = new ComboBox<>(FXCollections.observableList(names));
        box.setId(id);
        box.setEditable(true);
        box.setAccessibleText(accessibleText);
        box.getEditor().setAccessibleText(accessibleText);
        return box;
    }

    /** Adds the serial number's row. */
    void serialRow(GridPane grid) {
        Forms.field(grid, "Serial number", serial);
    }

    /** Adds the rows of what comes after it. */
    void otherRows(GridPane grid) {
        Forms.field(grid, "Profile (name or file)", Forms.row(profile, suggestion));
        Forms.field(grid, "Bench (name or file)", Forms.row(rig, simulatedBench));
        Forms.field(grid, "Operator", operator);
        Forms.field(grid, "Simulated fault", simulation);
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
        Forms.show(simulatedBench, !simulated);
    }

    /** Says what supply type a name stands for, instead of what was said of the name before it. */
    private void profileShown() {
        suggestion.setText(title(text(profile)));
        onChange.run();
    }

    private static String title(String name) {
        return BuiltInFiles.profileNames().contains(name)
                ? BuiltInFiles.profile(name).profile().title()
                : "";
    }

    private void serialEntered() {
        String typed = serial.getText().strip();
        if (typed.isEmpty()) {
            return;
        }
        if (!text(profile).isEmpty()) {
            onComplete.run();
            return;
        }
        // the disk is not read on the window's thread; runs may have been added since the last unit
        Aside.run(() -> new ProfileSuggestion(data).of(typed), this::suggest, lines -> suggest(Optional.empty()));
    }

    private void suggest(Optional<String> id) {
        if (id.isPresent()) {
            profile.setValue(id.get());
            suggestion.setText(title(id.get()) + " (suggested by earlier runs; Enter to accept)");
        } else {
            suggestion.setText("no earlier run of this kind: choose a profile (Down opens the list)");
        }
        profile.requestFocus();
    }

    private static String text(ComboBox<String> box) {
        // the editor of a box that was never shown is empty, whatever its value
        String typed = box.getEditor().getText();
        String chosen = typed == null || typed.isBlank() ? box.getValue() : typed;
        return chosen == null ? "" : chosen.strip();
    }

    /** Fills in what an earlier run was made with. */
    void fill(String unitSerial, String profileName) {
        serial.setText(unitSerial);
        profile.setValue(profileName);
    }

    /** Makes it ready for another unit on another bench; operator and bench stay. */
    void clear() {
        serial.clear();
        profile.setValue("");
        profile.getEditor().clear();
        suggestion.setText("");
    }

    /**
     * What was filled in.
     *
     * @param problems takes everything that stands in the way
     */
    Optional<RunRequest> read(Stage stage, List<Problem> problems) {
        List<Problem> found = new ArrayList<>();
        if (serial.getText().isBlank()) {
            found.add(new Problem("serial number", 0, 0, "", "is empty; scan or type it"));
        }
        Optional<ProfileFile> profileFile = profile(found);
        Optional<RigFile> rigFile = Optional.empty();
        try {
            rigFile = Optional.of(NamedFiles.rig(text(rig)));
        } catch (BadFileException e) {
            found.addAll(e.problems());
        }
        if (profileFile.isPresent() && rigFile.isPresent()) {
            found.addAll(Placement.of(rigFile.get().config(), profileFile.get().profile())
                    .problems());
        }
        problems.addAll(found);
        return found.isEmpty() && profileFile.isPresent() && rigFile.isPresent()
                ? Optional.of(request(profileFile.get(), rigFile.get(), stage))
                : Optional.empty();
    }

    /**
     * The profile alone.
     *
     * @param problems takes everything that is wrong with it
     */
    Optional<ProfileFile> profile(List<Problem> problems) {
        String name = text(profile);
        if (name.isEmpty()) {
            problems.add(new Problem(
                    "profile",
                    0,
                    0,
                    "",
                    "is empty; choose one: " + String.join(", ", BuiltInFiles.profileNames()) + ", or a file"));
            return Optional.empty();
        }
        try {
            return Optional.of(NamedFiles.profile(name));
        } catch (BadFileException e) {
            problems.addAll(e.problems());
            return Optional.empty();
        }
    }

    private RunRequest request(ProfileFile profileFile, RigFile rigFile, Stage stage) {
        boolean simulated = rigFile.config().simulation().isPresent();
        String broken = fault.getValue();
        return new RunRequest(
                rigFile,
                profileFile,
                serial.getText().strip(),
                stage,
                operator.getText().strip(),
                data,
                simulated && !broken.equals(NO_FAULT) ? Optional.of(broken) : Optional.empty(),
                simulated && realTime.isSelected());
    }

    /** Puts the keyboard on the serial number. */
    void focus() {
        serial.requestFocus();
    }
}
