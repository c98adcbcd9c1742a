package railproof.ui;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javafx.animation.PauseTransition;
import javafx.collections.FXCollections;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.ComboBox;
import javafx.scene.control.Label;
import javafx.scene.control.ListView;
import javafx.scene.control.TextArea;
import javafx.scene.control.TextField;
import javafx.scene.input.KeyCode;
import javafx.scene.input.KeyCodeCombination;
import javafx.scene.input.KeyCombination;
import javafx.scene.input.KeyEvent;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.VBox;
import javafx.util.Duration;
import railproof.base.Problem;

/**
 * Rig and profile files, edited with the same precise errors a run would be refused with: all at once, each leading to
 * its line and column. Saved in one step; what cannot be used stays a draft.
 */
final class FilesPane implements ScreenPane {
    private static final KeyCombination SAVE = new KeyCodeCombination(KeyCode.S, KeyCombination.SHORTCUT_DOWN);
    private static final KeyCombination LEAVE = new KeyCodeCombination(KeyCode.TAB, KeyCombination.CONTROL_DOWN);

    private final Drafts drafts;
    private final VBox root = new VBox();
    private final ComboBox<FileEdit.Kind> kind = new ComboBox<>();
    private final ComboBox<String> name = new ComboBox<>();
    private final TextArea text = new TextArea();
    private final TextField into = new TextField();
    private final Label state = Forms.words("Choose a file, or one that comes with the program to begin from.");
    private final ListView<Problem> problems = new ListView<>();
    private final Button save = Forms.button("save", "Save  (Ctrl+S)", this::save);
    private final PauseTransition typing = new PauseTransition(Duration.millis(400));
    private Optional<FileEdit> edit = Optional.empty();
    private int asked;

    FilesPane(WindowSettings settings) {
        drafts = new Drafts(settings.dataDirectory());
        root.getStyleClass().add("form");
        kind.setId("kind");
        kind.setAccessibleText("Rig or profile");
        kind.setConverter(new ChoiceWords<>(FileEdit.Kind::words));
        kind.setItems(FXCollections.observableArrayList(FileEdit.Kind.values()));
        kind.setOnAction(event -> names());
        kind.setValue(FileEdit.Kind.PROFILE);
        name.setId("file");
        name.setEditable(true);
        name.setAccessibleText("File, or the name of one that comes with the program");
        name.getEditor().setAccessibleText("File, or the name of one that comes with the program");
        names();
        text.setId("text");
        text.getStyleClass().add("editor");
        text.setAccessibleText("The file's text; Ctrl+Tab leaves it");
        text.setDisable(true);
        text.textProperty().addListener((at, before, now) -> typing.playFromStart());
        text.addEventFilter(KeyEvent.KEY_PRESSED, this::key);
        typing.setOnFinished(event -> check());
        into.setId("into");
        into.setAccessibleText("Save to file");
        state.setId("file-state");
        state.getStyleClass().add("strong");
        listProblems();
        VBox.setVgrow(text, Priority.ALWAYS);
        HBox.setHgrow(into, Priority.ALWAYS);
        Label saveTo = new Label("Save to");
        saveTo.setMinWidth(javafx.scene.layout.Region.USE_PREF_SIZE);
        saveTo.setLabelFor(into);
        root.getChildren()
                .addAll(
                        Forms.title("Rig and profile files"),
                        Forms.row(kind, name, Forms.mainButton("open-file", "Open  (Enter)", this::openNamed)),
                        text,
                        Forms.row(saveTo, into, save),
                        state,
                        problems);
        save.setDisable(true);
        root.addEventHandler(KeyEvent.KEY_PRESSED, event -> {
            if (SAVE.match(event)) {
                save();
                event.consume();
            }
        });
    }

    private void listProblems() {
        problems.setId("file-problems");
        problems.setAccessibleText("Problems of this text; Enter goes to the place");
        problems.setCellFactory(list -> new ProblemCell());
        problems.setPrefHeight(150);
        problems.setMinHeight(70);
        problems.getSelectionModel().selectedItemProperty().addListener((at, before, now) -> {
            if (now != null && problems.isFocused()) {
                select(now);
            }
        });
        problems.addEventFilter(KeyEvent.KEY_PRESSED, event -> {
            if (event.getCode() == KeyCode.ENTER) {
                goTo();
                event.consume();
            }
        });
        problems.setOnMouseClicked(event -> goTo());
    }

    private void names() {
        String typed = Optional.ofNullable(name.getEditor().getText()).orElse("");
        name.setItems(
                FXCollections.observableList(new ArrayList<>(kind.getValue().builtIn())));
        name.getEditor().setText(typed);
    }

    private void key(KeyEvent event) {
        // Tab writes into the text; the keyboard has to get out of it all the same
        if (LEAVE.match(event)) {
            into.requestFocus();
            event.consume();
        }
    }

    private void openNamed() {
        String typed = Optional.ofNullable(name.getEditor().getText()).orElse("");
        open(
                kind.getValue(),
                typed.isBlank() ? Optional.ofNullable(name.getValue()).orElse("") : typed.strip());
    }

    /** Opens a file of which only its text says whether it is a rig or a profile. */
    void open(Path file) {
        Aside.run(
                () -> {
                    FileEdit asProfile = FileEdit.open(FileEdit.Kind.PROFILE, file.toString(), drafts);
                    FileEdit asRig = FileEdit.open(FileEdit.Kind.RIG, file.toString(), drafts);
                    // the one it has less trouble with
                    return asRig.check(asRig.opened()).size()
                                    < asProfile.check(asProfile.opened()).size()
                            ? FileEdit.Kind.RIG
                            : FileEdit.Kind.PROFILE;
                },
                found -> {
                    kind.setValue(found);
                    name.getEditor().setText(file.toString());
                    open(found, file.toString());
                },
                this::refused);
    }

    private void open(FileEdit.Kind of, String file) {
        keepDraft();
        Aside.run(() -> FileEdit.open(of, file, drafts), this::opened, this::refused);
    }

    private void refused(List<String> lines) {
        state.setText(String.join("\n", lines));
    }

    private void opened(FileEdit next) {
        edit = Optional.of(next);
        into.setText(next.target().toString());
        text.setDisable(false);
        save.setDisable(false);
        text.setText(next.opened());
        text.positionCaret(0);
        text.requestFocus();
        check();
    }

    private void check() {
        typing.stop();
        int number = ++asked;
        String now = text.getText();
        edit.ifPresent(of -> Aside.run(
                () -> {
                    of.keepDraft(number, now);
                    return of.check(now);
                },
                found -> {
                    // an answer that was overtaken by more typing is of no use
                    if (number == asked) {
                        show(found, now);
                    }
                },
                this::refused));
    }

    private void show(List<Problem> found, String checked) {
        problems.setItems(FXCollections.observableList(new ArrayList<>(found)));
        boolean saved = edit.map(of -> of.isSaved(checked)).orElse(true);
        String where = saved ? "Saved." : "Not saved yet; kept as a draft.";
        boolean draft = edit.map(of -> of.fromDraft() && of.opened().equals(checked) && !saved)
                .orElse(false);
        state.setText((draft ? "What was typed earlier and never saved was taken up again.  " : "")
                + (found.isEmpty()
                        ? "✓ Nothing is wrong with it. " + where
                        : "✗ " + (found.size() == 1 ? "1 problem" : found.size() + " problems") + ". " + where));
    }

    private void save() {
        if (edit.isEmpty()) {
            return;
        }
        FileEdit of = edit.get();
        String now = text.getText();
        Path file;
        try {
            file = Path.of(into.getText().strip());
        } catch (InvalidPathException e) {
            refused(List.of("This cannot be a file's name: " + into.getText()));
            return;
        }
        typing.stop();
        int number = ++asked;
        Aside.run(
                () -> of.save(number, file, now),
                found -> {
                    if (number == asked) {
                        saved(found, file, now);
                    }
                },
                this::refused);
    }

    private void saved(List<Problem> found, Path file, String now) {
        show(found, now);
        state.setText(
                found.isEmpty()
                        ? "✓ Saved to " + file.toAbsolutePath().normalize()
                        : "✗ Not saved: " + (found.size() == 1 ? "1 problem" : found.size() + " problems")
                                + ". What you typed is kept as a draft; the file is as it was.");
    }

    private void goTo() {
        Optional.ofNullable(problems.getSelectionModel().getSelectedItem()).ifPresent(problem -> {
            select(problem);
            text.requestFocus();
        });
    }

    /** Shows the place of a problem: from its column to the end of its line. */
    private void select(Problem problem) {
        if (problem.line() < 1) {
            return;
        }
        String all = text.getText();
        int start = 0;
        for (int line = 1; line < problem.line() && start >= 0; line++) {
            start = all.indexOf('\n', start) + 1;
            if (start == 0) {
                return;
            }
        }
        int end = all.indexOf('\n', start);
        int stop = end < 0 ? all.length() : end;
        text.selectRange(Math.min(stop, start + Math.max(0, problem.column() - 1)), stop);
    }

    /** A problem in words that wrap. */
    private static final class ProblemCell extends javafx.scene.control.ListCell<Problem> {
        @Override
        protected void updateItem(@org.jspecify.annotations.Nullable Problem problem, boolean empty) {
            super.updateItem(problem, empty);
            setText(problem == null || empty ? "" : problem.text());
            setWrapText(true);
            setPrefWidth(0);
        }
    }

    private void keepDraft() {
        int number = ++asked;
        String now = text.getText();
        edit.ifPresent(of -> Aside.run(
                () -> {
                    of.keepDraft(number, now);
                    return now;
                },
                done -> {},
                this::refused));
    }

    /** The window closes: what was typed since the last rest is kept before it does. */
    void closing() throws railproof.record.RecordException {
        if (edit.isPresent()) {
            edit.get().keepDraft(++asked, text.getText());
        }
    }

    @Override
    public void left() {
        keepDraft();
    }

    @Override
    public Parent root() {
        return root;
    }

    @Override
    public void focus() {
        if (edit.isPresent()) {
            text.requestFocus();
        } else {
            name.requestFocus();
        }
    }
}
