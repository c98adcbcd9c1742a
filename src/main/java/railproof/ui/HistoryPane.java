package railproof.ui;

import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import javafx.animation.PauseTransition;
import javafx.collections.FXCollections;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.ComboBox;
import javafx.scene.control.Label;
import javafx.scene.control.TableView;
import javafx.scene.control.TextField;
import javafx.scene.input.KeyCode;
import javafx.scene.input.KeyEvent;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.VBox;
import javafx.util.Duration;
import org.jspecify.annotations.Nullable;
import railproof.archive.ArchivedRun;
import railproof.archive.RunFilter;
import railproof.archive.store.Archive;
import railproof.judge.Verdict;
import railproof.report.HistoryTable;

/** Archived runs, the newest first: by unit, type, verdict; open one, or lay two over one another. */
final class HistoryPane implements ScreenPane {
    private static final int MOST = 500;
    private static final String ANY = "any";
    private static final DateTimeFormatter MINUTE =
            DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm", Locale.ROOT).withZone(ZoneOffset.UTC);

    private final Window window;
    private final NextSteps steps;
    private final VBox root = new VBox();
    private final TextField unit = new TextField();
    private final ComboBox<String> type = new ComboBox<>();
    private final ComboBox<String> verdict = new ComboBox<>();
    private final TableView<ArchivedRun> table = Forms.table("runs", "Archived runs");
    private final Label count = Forms.hint("");
    private final VBox problems = new VBox();
    private final Button open = Forms.mainButton("open", "Open  (Enter)", this::open);
    private final Button mark = Forms.button("mark", "Mark as before  (Space)", this::mark);
    private final Button compare = Forms.button("compare", "Compare with the marked one  (C)", this::compare);
    private final PauseTransition typing = new PauseTransition(Duration.millis(250));
    private Optional<ArchivedRun> marked = Optional.empty();
    private int asked;

    HistoryPane(Window window, NextSteps steps) {
        this.window = window;
        this.steps = steps;
        root.getStyleClass().add("form");
        unit.setId("history-unit");
        unit.setPromptText("serial number");
        unit.textProperty().addListener((at, before, now) -> typing.playFromStart());
        unit.setOnAction(event -> search());
        typing.setOnFinished(event -> search());
        type.setId("history-type");
        type.setItems(FXCollections.observableArrayList(ANY));
        type.setValue(ANY);
        type.setOnAction(event -> search());
        List<String> verdicts = new ArrayList<>(List.of(ANY));
        Arrays.stream(Verdict.values()).map(ArchivedRun::word).forEach(verdicts::add);
        verdict.setId("history-verdict");
        verdict.setItems(FXCollections.observableList(verdicts));
        verdict.setValue(ANY);
        verdict.setOnAction(event -> search());
        columns();
        table.addEventFilter(KeyEvent.KEY_PRESSED, this::key);
        VBox.setVgrow(table, Priority.ALWAYS);
        table.getSelectionModel().selectedItemProperty().addListener((at, before, now) -> enable());
        HBox filters = Forms.row(labelled("Unit", unit), labelled("Type", type), labelled("Verdict", verdict));
        root.getChildren()
                .addAll(Forms.title("History"), filters, table, Forms.row(open, mark, compare), count, problems);
        enable();
    }

    private static HBox labelled(String words, javafx.scene.control.Control field) {
        Label label = new Label(words);
        label.setLabelFor(field);
        field.setAccessibleText("History: " + words.toLowerCase(Locale.ROOT));
        return Forms.row(label, field);
    }

    private void columns() {
        Forms.column(table, "", 80, run -> marked.filter(run::equals).isPresent() ? "before" : "");
        Forms.column(table, "Started (UTC)", 190, run -> MINUTE.format(run.startedAt()));
        Forms.column(table, "Unit", 150, ArchivedRun::unitSerial);
        Forms.column(table, "Type", 150, ArchivedRun::profileId);
        Forms.column(table, "Stage", 110, ArchivedRun::stage);
        Forms.column(table, "Verdict", 300, run -> HistoryTable.verdict(run).replace("\n", ", "));
        Forms.column(table, "Signed off", 160, HistoryTable::signed);
    }

    private void key(KeyEvent event) {
        if (event.getCode() == KeyCode.ENTER) {
            open();
            event.consume();
        } else if (event.getCode() == KeyCode.SPACE) {
            mark();
            event.consume();
        } else if (event.getCode() == KeyCode.C && !event.isShortcutDown()) {
            compare();
            event.consume();
        }
    }

    private void enable() {
        boolean none = selected().isEmpty();
        open.setDisable(none);
        mark.setDisable(none);
        compare.setDisable(none || marked.isEmpty() || marked.equals(selected()));
    }

    private Optional<ArchivedRun> selected() {
        @Nullable ArchivedRun run = table.getSelectionModel().getSelectedItem();
        return Optional.ofNullable(run);
    }

    private void open() {
        selected().ifPresent(run -> steps.open(run, this::back));
    }

    private void back() {
        window.put(Place.HISTORY, this);
    }

    private void mark() {
        selected().ifPresent(run -> {
            marked = marked.equals(Optional.of(run)) ? Optional.empty() : Optional.of(run);
            table.refresh();
            enable();
        });
    }

    private void compare() {
        Optional<ArchivedRun> after = selected();
        if (marked.isPresent() && after.isPresent() && !marked.equals(after)) {
            steps.compare(marked.get(), after.get(), this::back);
        }
    }

    private static Optional<String> chosen(ComboBox<String> box) {
        return Optional.ofNullable(box.getValue()).filter(value -> !value.equals(ANY));
    }

    /** What the archive answered. */
    private record Found(List<ArchivedRun> runs, long all, List<String> types, List<String> troubles) {}

    private void search() {
        int number = ++asked;
        String serial = unit.getText().strip();
        RunFilter filter = new RunFilter(
                serial.isEmpty() ? Optional.empty() : Optional.of(serial),
                chosen(type),
                chosen(verdict),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty());
        Aside.run(
                () -> {
                    railproof.app.Archiving archiving = window.archiving();
                    try (Archive archive = archiving.open()) {
                        return new Found(
                                archive.runs(filter, MOST),
                                archive.count(filter),
                                archive.types(),
                                archiving.troubles());
                    }
                },
                found -> {
                    // an answer that was overtaken by another question is of no use
                    if (number == asked) {
                        show(found);
                    }
                },
                lines -> Forms.tell(problems, lines));
    }

    private void show(Found found) {
        Optional<ArchivedRun> before = selected();
        table.setItems(FXCollections.observableList(new ArrayList<>(found.runs())));
        if (before.filter(found.runs()::contains).isPresent()) {
            table.getSelectionModel().select(before.get());
        } else if (!found.runs().isEmpty()) {
            table.getSelectionModel().select(0);
        }
        List<String> types = new ArrayList<>(List.of(ANY));
        types.addAll(found.types());
        if (!types.equals(type.getItems())) {
            Optional<String> kept = Optional.ofNullable(type.getValue());
            type.getItems().setAll(types);
            type.setValue(kept.filter(types::contains).orElse(ANY));
        }
        count.setText(
                found.all() > found.runs().size()
                        ? "The newest " + found.runs().size() + " of " + found.all() + " runs."
                        : found.all() == 1 ? "1 run." : found.all() + " runs.");
        count.setId("count");
        Forms.tell(problems, found.troubles());
        enable();
    }

    @Override
    public Parent root() {
        return root;
    }

    @Override
    public void focus() {
        if (table.getItems().isEmpty()) {
            unit.requestFocus();
        } else {
            table.requestFocus();
        }
    }

    @Override
    public void entered() {
        search();
    }
}
