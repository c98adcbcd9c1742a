package railproof.ui;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.CheckBox;
import javafx.scene.control.Label;
import javafx.scene.control.TextField;
import javafx.scene.layout.GridPane;
import javafx.scene.layout.VBox;
import railproof.app.SignOffService;
import railproof.base.SystemClock;
import railproof.judge.SignOff;
import railproof.judge.Verdict;

/** Somebody puts their name to a run: who, and what they checked themselves. Refused with every reason. */
final class SignOffPane implements ScreenPane {
    /** What the rig cannot see and local rules mostly ask for (common practice, no source). */
    private static final List<String> USUAL =
            List.of("insulation, inlet to chassis", "earth bond", "fuse ratings", "cover on, screws tight");

    private final KeptRun run;
    private final Window window;
    private final VBox root = new VBox();
    private final TextField name = new TextField();
    private final TextField more = new TextField();
    private final TextField reason = new TextField();
    private final CheckBox training = new CheckBox("an exercise on a simulated run, marked as such everywhere");
    private final Map<CheckBox, String> usual = new LinkedHashMap<>();
    private final VBox answers = new VBox();
    private final Button sign;

    SignOffPane(KeptRun run, Window window, Runnable onBack) {
        this.run = run;
        this.window = window;
        root.getStyleClass().add("form");
        name.setId("signer");
        name.setText(window.settings().operator());
        more.setId("checked-more");
        more.setPromptText("anything else, separated by ;");
        reason.setId("reason");
        reason.setPromptText("only for a conditional verdict");
        training.setId("training");
        VBox list = new VBox();
        list.getStyleClass().add("ticks");
        for (String what : USUAL) {
            CheckBox tick = new CheckBox(what);
            usual.put(tick, what);
            list.getChildren().add(tick);
        }
        GridPane grid = Forms.grid();
        Forms.field(grid, "Signed off by", name);
        Forms.field(grid, "I checked myself", list);
        Forms.field(grid, "And also", more);
        Forms.field(grid, "Reason", reason);
        if (run.simulated()) {
            Forms.field(grid, "Training", training);
        }
        sign = Forms.mainButton("sign", "Sign off  (Enter)", this::signOff);
        answers.setId("sign-off-answer");
        root.getChildren()
                .addAll(
                        Forms.title("Sign off unit " + run.unit() + " before it ships"),
                        grid,
                        Forms.row(sign, Forms.button("back", "Back", onBack)),
                        answers);
    }

    private void signOff() {
        List<String> checked = new ArrayList<>();
        usual.forEach((tick, what) -> {
            if (tick.isSelected()) {
                checked.add(what);
            }
        });
        for (String part : more.getText().split(";", -1)) {
            if (!part.isBlank()) {
                checked.add(part.strip());
            }
        }
        SignOff asked = new SignOff(
                name.getText(),
                checked,
                SystemClock.INSTANCE.wallTime(),
                reason.getText(),
                training.isSelected(),
                Verdict.NOT_JUDGED);
        sign.setDisable(true);
        Path folder = run.folder();
        Aside.run(
                () -> {
                    SignOffService.Result result = SignOffService.signOff(folder, asked, Optional.empty());
                    List<String> troubles =
                            result.refusals().isEmpty() ? window.archiving().changed(folder) : List.of();
                    return new Answer(result, troubles);
                },
                this::answered,
                lines -> {
                    sign.setDisable(false);
                    Forms.tell(answers, lines);
                });
    }

    private record Answer(SignOffService.Result result, List<String> troubles) {}

    private void answered(Answer answer) {
        List<String> refusals = answer.result().refusals();
        if (!refusals.isEmpty()) {
            sign.setDisable(false);
            List<String> lines = new ArrayList<>(List.of("Not signed off:"));
            // the command's option has a box of its own here
            refusals.forEach(refusal -> lines.add("· " + refusal.replace("--training", "the box above")));
            Forms.tell(answers, lines);
            return;
        }
        Forms.tell(answers, answer.troubles());
        Label done = Forms.words("✓ Signed off by " + answer.result().signOff().by() + ", "
                + answer.result().signOff().verdict().words()
                + (answer.result().signOff().training() ? " (TRAINING, no real unit)" : "")
                + ". The certificate carries the name now.");
        done.setId("signed");
        done.getStyleClass().add("now");
        answers.getChildren().add(done);
    }

    @Override
    public Parent root() {
        return root;
    }

    @Override
    public void focus() {
        name.requestFocus();
    }

    @Override
    public String subject() {
        return run.subject();
    }

    @Override
    public boolean simulated() {
        return run.simulated();
    }
}
