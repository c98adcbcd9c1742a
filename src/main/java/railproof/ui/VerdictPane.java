package railproof.ui;

import java.util.ArrayList;
import java.util.List;
import javafx.beans.property.ReadOnlyStringWrapper;
import javafx.collections.FXCollections;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.TableColumn;
import javafx.scene.control.TableRow;
import javafx.scene.control.TableView;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;
import org.jspecify.annotations.Nullable;
import railproof.app.ExitStatus;
import railproof.app.RunRequest;
import railproof.app.RunResult;
import railproof.judge.Check;
import railproof.judge.Judgement;
import railproof.judge.Verdict;
import railproof.report.CertificatePage;
import railproof.report.Quantities;
import railproof.report.Words;
import railproof.run.RunOutcome;

/**
 * What came of a run: the verdict in a word and a sign, every check with its value, uncertainty and limit, and what to
 * do next.
 */
final class VerdictPane implements ScreenPane {
    private final VBox root = new VBox();
    private final Button next = new Button("Next unit  (Enter)");

    VerdictPane(RunRequest request, RunView view, Runnable onAgain, Runnable onNext) {
        root.getStyleClass().add("form");
        Label verdict = new Label(headline(view));
        verdict.setId("verdict");
        verdict.getStyleClass().add("verdict");
        root.getChildren().add(verdict);
        marks(view).forEach(mark -> root.getChildren().add(mark(mark)));
        view.result().flatMap(RunResult::judgement).ifPresent(judgement -> {
            TableView<Check> table = table(judgement);
            VBox.setVgrow(table, Priority.ALWAYS);
            Label rule = new Label("Rule: " + Words.rule(judgement.rule()));
            rule.setWrapText(true);
            root.getChildren().addAll(table, rule);
        });
        Label advice = new Label(advice(request, view));
        advice.setId("advice");
        advice.setWrapText(true);
        advice.setMinHeight(Region.USE_PREF_SIZE);
        root.getChildren().add(advice);
        next.setId("next-unit");
        next.getStyleClass().add("main-button");
        next.setDefaultButton(true);
        next.setOnAction(event -> onNext.run());
        Button again = new Button("Same unit again");
        again.setId("again");
        again.setOnAction(event -> onAgain.run());
        HBox buttons = new HBox(next, again);
        buttons.getStyleClass().add("row");
        root.getChildren().add(buttons);
    }

    private static Label mark(String words) {
        Label label = new Label(words);
        label.setWrapText(true);
        label.getStyleClass().add("problem");
        return label;
    }

    private static String headline(RunView view) {
        if (view.result().isEmpty()) {
            return "✗  No run";
        }
        Verdict overall = view.result()
                .flatMap(RunResult::judgement)
                .map(Judgement::overall)
                .orElse(Verdict.NOT_JUDGED);
        boolean whole = view.outcome().map(RunOutcome::completed).orElse(false);
        return sign(overall) + "  " + overall.words().toUpperCase(java.util.Locale.ROOT)
                + (whole ? "" : "  (run not complete)");
    }

    private static String sign(Verdict verdict) {
        return switch (verdict) {
            case PASS -> "✓";
            case FAIL -> "✗";
            case CONDITIONAL_PASS, CONDITIONAL_FAIL, NOT_JUDGED -> "?";
        };
    }

    private static List<String> marks(RunView view) {
        List<String> marks = new ArrayList<>();
        if (!view.trouble().isEmpty()) {
            marks.add(view.trouble());
        }
        view.result()
                .ifPresent(result -> result.judgement().ifPresent(j -> marks.addAll(Words.marks(result.run(), j))));
        return marks;
    }

    private static String advice(RunRequest request, RunView view) {
        if (view.result().isEmpty()) {
            return "Nothing was switched on by this run. Look at the rig: railproof check-rig, railproof ports.";
        }
        RunResult result = view.result().get();
        String where = "\nRecord: " + result.folder() + "   Page to print: " + CertificatePage.FILE;
        if (result.status() == ExitStatus.NOT_SAFE) {
            return "NOT CONFIRMED that everything is off. Switch the mains off by hand, then look." + where;
        }
        String todo =
                switch (result.status()) {
                    case PASSED -> "Next: burn it in, or sign it off.";
                    case UNIT_FAILED ->
                        "Next: work back from the output. Mains off, capacitors measured to be down, before a hand"
                                + " goes inside.";
                    case NOT_JUDGED -> "Next: see which limit could not be judged, and why.";
                    case RIG_TROUBLE ->
                        "Next: mend what ended the run, then test unit " + request.unitSerial() + " again.";
                    case BAD_INPUT, NOT_SAFE -> "";
                };
        return todo + where;
    }

    private static TableView<Check> table(Judgement judgement) {
        TableView<Check> table = new TableView<>(FXCollections.observableList(judgement.checks()));
        table.setId("checks");
        table.setAccessibleText("All checks");
        table.setRowFactory(of -> new CheckRow());
        table.setColumnResizePolicy(TableView.CONSTRAINED_RESIZE_POLICY_FLEX_LAST_COLUMN);
        column(table, "Rail", 90, Check::rail);
        column(table, "Check", 380, Check::title);
        column(table, "Value ± U", 240, VerdictPane::value);
        column(table, "Limit", 190, check -> Quantities.limit(check.limit(), check.unit()));
        column(
                table,
                "Verdict",
                170,
                check -> sign(check.verdict()) + " " + check.verdict().words());
        return table;
    }

    private static String value(Check check) {
        return check.value().measured().isPresent() ? Quantities.text(check.value(), check.expandedU()) : "–";
    }

    /** A row that stands out unless its check passed. */
    private static final class CheckRow extends TableRow<Check> {
        @Override
        protected void updateItem(@Nullable Check check, boolean empty) {
            super.updateItem(check, empty);
            getStyleClass().remove("not-passed");
            if (check != null && !empty && check.verdict() != Verdict.PASS) {
                getStyleClass().add("not-passed");
            }
        }
    }

    private static void column(
            TableView<Check> table, String name, double width, java.util.function.Function<Check, String> text) {
        TableColumn<Check, String> column = new TableColumn<>(name);
        column.setPrefWidth(width);
        column.setSortable(false);
        column.setCellValueFactory(row -> new ReadOnlyStringWrapper(text.apply(row.getValue())));
        table.getColumns().add(column);
    }

    @Override
    public Parent root() {
        return root;
    }

    @Override
    public void focus() {
        next.requestFocus();
    }
}
