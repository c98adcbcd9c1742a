package railproof.ui;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import javafx.collections.FXCollections;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.ComboBox;
import javafx.scene.control.Label;
import javafx.scene.control.TableView;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.VBox;
import railproof.judge.Comparison;
import railproof.judge.Judge;
import railproof.judge.Judgement;
import railproof.profile.Profile;
import railproof.profile.ProfileFile;
import railproof.profile.Rail;
import railproof.report.ComparisonTable;
import railproof.run.RunData;
import railproof.run.Section;

/** The curves of a run, and behind them those of an earlier one: before and after, with every difference. */
final class OverlayPane implements ScreenPane {
    private static final List<Section> SECTIONS =
            List.of(Section.LOAD_SWEEP, Section.LINE_SWEEP, Section.CURRENT_LIMIT, Section.BURN_IN);

    private final KeptRun after;
    private final Optional<KeptRun> before;
    private final Map<String, Plot> plots = new LinkedHashMap<>();
    private final VBox root = new VBox();
    private final PlotPane plot = new PlotPane();
    private final ComboBox<String> curve = new ComboBox<>();
    private final Button back;

    OverlayPane(KeptRun after, Optional<KeptRun> before, Runnable onBack) {
        this.after = after;
        this.before = before;
        this.back = Forms.mainButton("back", "Back  (Enter)", onBack);
        root.getStyleClass().add("form");
        plots();
        curve.setId("curve");
        curve.setAccessibleText("Which curve");
        curve.setItems(FXCollections.observableList(new ArrayList<>(plots.keySet())));
        curve.setOnAction(event -> draw());
        plot.setId("overlay");
        VBox.setVgrow(plot, Priority.ALWAYS);
        Label title = Forms.title(before.isPresent() ? "Before and after" : "Curves");
        HBox.setHgrow(title, Priority.ALWAYS);
        title.setMaxWidth(Double.MAX_VALUE);
        HBox top = Forms.row(title, curve, back);
        root.getChildren().add(top);
        before.ifPresent(earlier -> {
            root.getChildren().add(Forms.words("Before: " + run(earlier) + "    After: " + run(after)));
            if (!earlier.unit().equals(after.unit())) {
                root.getChildren().add(Forms.problem("The run before is of another unit: " + earlier.unit()));
            }
        });
        root.getChildren().add(plots.isEmpty() ? Forms.words("This run holds no curve.") : plot);
        before.ifPresent(this::differences);
        if (!plots.isEmpty()) {
            curve.getSelectionModel().select(0);
            draw();
        }
    }

    private static String run(KeptRun run) {
        return run.run().header().runId() + " (" + run.run().header().stage().label() + ")";
    }

    private void plots() {
        Profile profile = after.profile().profile();
        for (Rail rail : profile.rails()) {
            for (Section section : SECTIONS) {
                Plot own = Plots.of(section, rail, profile.line(), after.run().points());
                Optional<Plot> earlier = before.map(
                        run -> Plots.of(section, rail, profile.line(), run.run().points()));
                boolean empty = own.curve().isEmpty()
                        && earlier.map(Plot::curve).orElse(List.of()).isEmpty();
                if (!empty) {
                    plots.put(own.title(), earlier.map(own::over).orElse(own));
                }
            }
        }
    }

    private void draw() {
        Optional.ofNullable(curve.getValue())
                .flatMap(name -> Optional.ofNullable(plots.get(name)))
                .ifPresent(plot::show);
    }

    private void differences(KeptRun earlier) {
        ProfileFile profile = after.profile();
        Comparison comparison =
                Comparison.of(earlier.run(), judged(earlier.run(), profile), after.run(), judged(after.run(), profile));
        TableView<Comparison.CheckRow> table = Forms.table("differences", "Differences of all checks");
        table.setItems(FXCollections.observableList(new ArrayList<>(comparison.checks())));
        Forms.column(table, "Rail", 80, Comparison.CheckRow::rail);
        Forms.column(table, "Check", 330, Comparison.CheckRow::title);
        Forms.column(table, "Before", 250, row -> oneLine(ComparisonTable.side(row.before())));
        Forms.column(table, "After", 250, row -> oneLine(ComparisonTable.side(row.after())));
        Forms.column(table, "Change ± U", 290, row -> oneLine(ComparisonTable.change(row.change())));
        table.setPrefHeight(180);
        VBox.setVgrow(table, Priority.SOMETIMES);
        Label changes = Forms.words(String.join("\n", ComparisonTable.changes(comparison)));
        changes.setId("changes");
        changes.getStyleClass().add("strong");
        root.getChildren().addAll(changes, table);
    }

    private static Judgement judged(RunData run, ProfileFile profile) {
        return Judge.judge(run, profile.profile(), profile.source().sha256());
    }

    private static String oneLine(String text) {
        return text.replace("\n", ", ");
    }

    @Override
    public Parent root() {
        return root;
    }

    @Override
    public void focus() {
        back.requestFocus();
    }

    @Override
    public String subject() {
        return after.subject();
    }

    @Override
    public boolean simulated() {
        return after.simulated() || before.map(KeptRun::simulated).orElse(false);
    }
}
