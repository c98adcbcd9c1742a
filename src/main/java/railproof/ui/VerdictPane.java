package railproof.ui;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import javafx.collections.FXCollections;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.TableRow;
import javafx.scene.control.TableView;
import javafx.scene.layout.FlowPane;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;
import org.jspecify.annotations.Nullable;
import railproof.app.ExitStatus;
import railproof.judge.Check;
import railproof.judge.Judgement;
import railproof.judge.Verdict;
import railproof.report.CertificatePage;
import railproof.report.Quantities;
import railproof.report.Words;

/**
 * What came of a run, just now or long ago: the verdict in a word and a sign, every check with its value, uncertainty
 * and limit, and what can be done next.
 */
final class VerdictPane implements ScreenPane {
    private final VBox root = new VBox();
    private final Optional<KeptRun> kept;
    private final Button onward;

    /** Something that can be done next. */
    record Next(String id, String words, Runnable action) {}

    /**
     * A verdict.
     *
     * @param kept the run; empty if none was begun
     * @param trouble why there is none; empty if nothing went wrong
     * @param main what Enter does
     * @param others what else can be done
     */
    VerdictPane(Optional<KeptRun> kept, String trouble, Next main, List<Next> others) {
        this.kept = kept;
        root.getStyleClass().add("form");
        Label verdict = new Label(kept.map(VerdictPane::headline).orElse("✗  No run"));
        verdict.setId("verdict");
        verdict.getStyleClass().add("verdict");
        root.getChildren().add(verdict);
        if (kept.filter(run -> run.status() == ExitStatus.NOT_SAFE).isPresent()) {
            Label unsafe = Forms.words(Power.NOT_CONFIRMED);
            unsafe.setId("unsafe");
            unsafe.getStyleClass().add("hazard");
            unsafe.setMaxWidth(Double.MAX_VALUE);
            root.getChildren().add(unsafe);
        }
        if (!trouble.isEmpty()) {
            root.getChildren().add(Forms.problem(trouble));
        }
        kept.ifPresent(this::checks);
        Label advice = Forms.words(
                kept.map(VerdictPane::advice).orElse("Nothing was switched on by this run. Look the rig over: F5."));
        advice.setId("advice");
        onward = Forms.mainButton(main.id(), main.words(), main.action());
        FlowPane buttons = new FlowPane(onward);
        buttons.getStyleClass().add("actions");
        // an old height would cut the second line of buttons off
        buttons.setMinHeight(Region.USE_PREF_SIZE);
        others.forEach(next -> buttons.getChildren().add(Forms.button(next.id(), next.words(), next.action())));
        root.getChildren().addAll(advice, buttons);
    }

    private void checks(KeptRun run) {
        run.judgement().ifPresent(judgement -> Words.marks(run.run(), judgement)
                .forEach(mark -> root.getChildren().add(Forms.problem(mark))));
        run.troubles().forEach(trouble -> root.getChildren().add(Forms.problem(trouble)));
        run.judgement().ifPresent(judgement -> {
            TableView<Check> table = table(judgement);
            VBox.setVgrow(table, Priority.ALWAYS);
            root.getChildren().addAll(table, Forms.hint("Rule: " + Words.rule(judgement.rule())));
        });
    }

    private static String headline(KeptRun run) {
        Verdict overall = run.judgement().map(Judgement::overall).orElse(Verdict.NOT_JUDGED);
        return sign(overall) + "  " + overall.words().toUpperCase(Locale.ROOT)
                + (run.run().outcome().completed() ? "" : "  (run not complete)");
    }

    static String sign(Verdict verdict) {
        return switch (verdict) {
            case PASS -> "✓";
            case FAIL -> "✗";
            case CONDITIONAL_PASS, CONDITIONAL_FAIL, NOT_JUDGED -> "?";
        };
    }

    private static String advice(KeptRun run) {
        String where = "Record: " + run.folder() + "   Page to print: " + CertificatePage.FILE;
        if (run.status() == ExitStatus.NOT_SAFE) {
            return where; // what to do stands above, where nobody overlooks it
        }
        String todo =
                switch (run.status()) {
                    case PASSED -> "Next: burn it in, or sign it off.";
                    case UNIT_FAILED ->
                        "Next: diagnose. Mains off, capacitors measured to be down, before a hand goes inside.";
                    case NOT_JUDGED -> "Next: see which limit could not be judged, and why.";
                    case RIG_TROUBLE -> "Next: mend what ended the run, then test unit " + run.unit() + " again.";
                    case BAD_INPUT, NOT_SAFE -> "";
                };
        return todo + "\n" + where;
    }

    private static TableView<Check> table(Judgement judgement) {
        TableView<Check> table = Forms.table("checks", "All checks");
        table.setItems(FXCollections.observableList(new ArrayList<>(judgement.checks())));
        table.setRowFactory(of -> new CheckRow());
        Forms.column(table, "Rail", 90, Check::rail);
        Forms.column(table, "Check", 380, Check::title);
        Forms.column(table, "Value ± U", 240, VerdictPane::value);
        Forms.column(table, "Limit", 190, check -> Quantities.limit(check.limit(), check.unit()));
        Forms.column(
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

    @Override
    public Parent root() {
        return root;
    }

    @Override
    public void focus() {
        onward.requestFocus();
    }

    @Override
    public String subject() {
        return kept.map(KeptRun::subject).orElse("");
    }

    @Override
    public boolean simulated() {
        return kept.map(KeptRun::simulated).orElse(false);
    }
}
