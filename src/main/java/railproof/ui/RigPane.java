package railproof.ui;

import java.time.Period;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javafx.collections.FXCollections;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.ComboBox;
import javafx.scene.control.Label;
import javafx.scene.control.ScrollPane;
import javafx.scene.control.TableView;
import javafx.scene.control.TextField;
import javafx.scene.layout.GridPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.VBox;
import railproof.app.CalibrationRequest;
import railproof.app.CalibrationService;
import railproof.app.ExitStatus;
import railproof.app.NamedFiles;
import railproof.app.RigCheck;
import railproof.base.BadFileException;
import railproof.profile.ProfileFile;
import railproof.rig.ChannelCalibration;
import railproof.rig.file.BuiltInFiles;
import railproof.rig.file.ChannelConfig;
import railproof.rig.file.RigFile;

/** The rig looked over, with everything off, and its channels calibrated against a reference meter. */
final class RigPane implements ScreenPane {
    private static final int MOST_MONTHS = 120;
    private static final String LOOK = "the look over the rig";

    private final Window window;
    private final VBox root = new VBox();
    private final ComboBox<String> rig = new ComboBox<>();
    private final ComboBox<String> profile = new ComboBox<>();
    private final TableView<RigCheck.Finding> findings = Forms.table("findings", "What was found");
    private final Label verdict = Forms.words("Nothing looked at yet.");
    private final Label detail = Forms.words("");
    private final ComboBox<String> channel = new ComboBox<>();
    private final TextField reference = new TextField();
    private final TextField referenceU = new TextField();
    private final TextField months = new TextField("12");
    private final Label prompt = Forms.words("");
    private final TextField answer = new TextField();
    private final VBox asking = new VBox();
    private final Label lines = Forms.words("");
    private final ScrollPane linesScroll = Forms.scroll(lines);
    private final VBox problems = new VBox();
    private final Button check;
    private final Button calibrate;
    private Optional<RigWork> work = Optional.empty();
    private boolean calibrating;

    RigPane(Window window) {
        this.window = window;
        root.getStyleClass().add("form");
        chooser(rig, "rig-file", "Bench, name or file", BuiltInFiles.rigNames());
        rig.setValue(window.settings().rig());
        rig.valueProperty().addListener((at, before, now) -> channels());
        chooser(profile, "rig-profile", "Profile that shall fit, or nothing", BuiltInFiles.profileNames());
        verdict.setId("rig-verdict");
        verdict.getStyleClass().add("now");
        problems.setId("rig-problems");
        check = Forms.mainButton("check-rig", "Look the rig over  (Enter)", this::check);
        calibrate = Forms.button("calibrate", "Calibrate this channel", this::calibrate);
        GridPane grid = Forms.grid();
        Forms.field(grid, "Bench (name or file)", rig);
        Forms.field(grid, "Profile to fit (may be empty)", profile);
        for (ComboBox<String> file : List.of(rig, profile)) {
            // a path needs all the room there is
            file.setMaxWidth(Double.MAX_VALUE);
            GridPane.setHgrow(file, Priority.ALWAYS);
        }
        Forms.column(findings, "", 110, finding -> finding.good() ? "✓ ok" : "✗ TROUBLE");
        Forms.column(findings, "What", 200, RigCheck.Finding::what);
        Forms.column(findings, "Found", 700, RigCheck.Finding::found);
        VBox.setVgrow(findings, Priority.ALWAYS);
        asking();
        VBox calibration = calibration();
        detail.setId("finding");
        findings.getSelectionModel()
                .selectedItemProperty()
                .addListener((at, before, now) -> detail.setText(now == null ? "" : now.what() + ": " + now.found()));
        VBox left = new VBox(grid, Forms.row(check), verdict, findings, detail);
        left.getStyleClass().add("ticks");
        HBox.setHgrow(left, Priority.ALWAYS);
        HBox both = new HBox(left, calibration);
        both.getStyleClass().add("below");
        VBox.setVgrow(both, Priority.ALWAYS);
        root.getChildren().addAll(Forms.title("Rig check and calibration"), asking, problems, both);
        channels();
    }

    private static void chooser(ComboBox<String> box, String id, String accessibleText, List<String> names) {
        box.setId(id);
        box.setEditable(true);
        box.setItems(FXCollections.observableList(new ArrayList<>(names)));
        box.setAccessibleText(accessibleText);
        box.getEditor().setAccessibleText(accessibleText);
    }

    private VBox calibration() {
        channel.setId("channel");
        reference.setId("reference");
        reference.setPromptText("with serial no.");
        referenceU.setId("reference-u");
        referenceU.setPromptText("0.003 % + 0.0002");
        months.setId("months");
        lines.setId("calibration-lines");
        lines.getStyleClass().add("typed");
        GridPane grid = Forms.grid();
        Forms.field(grid, "Channel", channel);
        Forms.field(grid, "Reference meter", reference);
        Forms.field(grid, "Its standard uncertainty", referenceU);
        Forms.field(grid, "Due again in months", months);
        VBox.setVgrow(linesScroll, Priority.ALWAYS);
        VBox box = new VBox(Forms.heading("Calibration"), grid, Forms.row(calibrate), linesScroll);
        box.getStyleClass().addAll("ticks", "calibration");
        return box;
    }

    private void asking() {
        asking.getStyleClass().add("prompt");
        prompt.setId("calibration-prompt");
        prompt.getStyleClass().add("prompt-words");
        answer.setId("calibration-answer");
        answer.setAccessibleText("What the reference meter reads");
        Runnable send = () -> {
            work.ifPresent(running -> running.answer(answer.getText()));
            answer.clear();
        };
        answer.setOnAction(event -> send.run());
        asking.getChildren().addAll(prompt, Forms.row(answer, Forms.button("calibration-done", "Done  (Enter)", send)));
        Forms.show(asking, false);
    }

    private static String text(ComboBox<String> box) {
        String typed = Optional.ofNullable(box.getEditor().getText()).orElse("");
        return (typed.isBlank() ? Optional.ofNullable(box.getValue()).orElse("") : typed).strip();
    }

    private void channels() {
        try {
            List<String> names = NamedFiles.rig(text(rig)).config().board().channels().stream()
                    .map(ChannelConfig::name)
                    .toList();
            channel.setItems(FXCollections.observableList(new ArrayList<>(names)));
            channel.getSelectionModel().select(0);
        } catch (BadFileException e) {
            // said in full when the rig is looked over
            channel.setItems(FXCollections.observableArrayList());
        }
    }

    private void check() {
        try {
            RigFile file = NamedFiles.rig(text(rig));
            String name = text(profile);
            Optional<ProfileFile> unit = name.isEmpty() ? Optional.empty() : Optional.of(NamedFiles.profile(name));
            RigCheck looking = new RigCheck(file, unit);
            findings.getItems().clear();
            begin(
                    new RigWork(LOOK, simulated(file), operator -> {
                        List<RigCheck.Finding> found = looking.everything();
                        javafx.application.Platform.runLater(() -> found(found));
                        return found.stream().allMatch(RigCheck.Finding::good)
                                ? ExitStatus.PASSED
                                : ExitStatus.RIG_TROUBLE;
                    }),
                    "Switching everything off, then asking every instrument who it is …");
        } catch (BadFileException e) {
            Forms.tell(problems, Aside.words(e));
        }
    }

    private void found(List<RigCheck.Finding> found) {
        findings.setItems(FXCollections.observableList(new ArrayList<>(found)));
        // trouble is read in full at once, nobody has to look for it
        found.stream()
                .filter(finding -> !finding.good())
                .findFirst()
                .or(() -> found.stream().findFirst())
                .ifPresent(findings.getSelectionModel()::select);
        long bad = found.stream().filter(finding -> !finding.good()).count();
        verdict.setText(
                bad == 0
                        ? "✓ All " + found.size() + " findings are as they should be."
                        : "✗ " + bad + " of " + found.size() + " findings are trouble.");
    }

    private static boolean simulated(RigFile file) {
        return file.config().simulation().isPresent();
    }

    private void calibrate() {
        List<String> wrong = new ArrayList<>();
        Optional<ChannelCalibration.Reference> meter =
                CalibrationRequest.reference(reference.getText().strip(), referenceU.getText());
        if (reference.getText().isBlank()) {
            wrong.add(
                    "reference meter: is empty; type what it is and its serial number, as it shall stand in the record");
        }
        if (meter.isEmpty()) {
            wrong.add("its standard uncertainty: must be like \"0.003 % + 0.0002\" (of the reading, and in the"
                    + " channel's unit); found \"" + referenceU.getText() + "\"");
        }
        int due = due(wrong);
        try {
            RigFile file = NamedFiles.rig(text(rig));
            Forms.tell(problems, wrong);
            if (wrong.isEmpty() && meter.isPresent() && channel.getValue() != null) {
                CalibrationRequest request = new CalibrationRequest(
                        file,
                        List.of(channel.getValue()),
                        meter.get(),
                        List.of(),
                        Period.ofMonths(due),
                        Optional.empty());
                begin(
                        new RigWork("the calibration of channel " + channel.getValue(), simulated(file), operator -> {
                            List<String> done = CalibrationService.run(request, operator);
                            operator.show(done.isEmpty() ? "Nothing calibrated." : "✓ Calibrated: " + done.get(0));
                            return done.isEmpty() ? ExitStatus.RIG_TROUBLE : ExitStatus.PASSED;
                        }),
                        "Calibrating; answer what is asked above.");
            }
        } catch (BadFileException e) {
            wrong.addAll(Aside.words(e));
            Forms.tell(problems, wrong);
        }
    }

    private int due(List<String> wrong) {
        try {
            int due = Integer.parseInt(months.getText().strip());
            if (due >= 1 && due <= MOST_MONTHS) {
                return due;
            }
        } catch (NumberFormatException e) {
            // said below, as for a number out of range
        }
        wrong.add("months: must be 1 to " + MOST_MONTHS + "; found \"" + months.getText() + "\"");
        return 1;
    }

    private void begin(RigWork next, String words) {
        String refusal = window.take(next, () -> ended(next));
        Forms.tell(problems, refusal.isEmpty() ? List.of() : List.of(refusal));
        if (refusal.isEmpty()) {
            work = Optional.of(next);
            verdict.setText(words);
            calibrating = !next.words().equals(LOOK);
            check.setDisable(true);
            calibrate.setDisable(true);
            next.start();
        }
    }

    private void ended(RigWork done) {
        check.setDisable(false);
        calibrate.setDisable(false);
        pulse();
        if (findings.getItems().isEmpty() || calibrating) {
            verdict.setText(
                    done.status() == ExitStatus.PASSED
                            ? "✓ Done."
                            : "✗ Ended before it was done; see the lines at the right.");
        }
    }

    @Override
    public void pulse() {
        work.ifPresent(running -> {
            String shown = String.join("\n", running.lines());
            if (!shown.equals(lines.getText())) {
                lines.setText(shown);
                // the newest line is at the end
                javafx.application.Platform.runLater(() -> linesScroll.setVvalue(1));
            }
            String wanted = running.wants();
            boolean fresh = !wanted.isEmpty() && !wanted.equals(prompt.getText());
            prompt.setText(wanted);
            Forms.show(asking, !wanted.isEmpty());
            if (fresh) {
                answer.requestFocus();
            }
        });
    }

    @Override
    public Parent root() {
        return root;
    }

    @Override
    public void focus() {
        rig.requestFocus();
    }

    @Override
    public boolean simulated() {
        return work.map(RigWork::simulated).orElse(false);
    }
}
