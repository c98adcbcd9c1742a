package railproof.ui;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import javafx.collections.FXCollections;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.ComboBox;
import javafx.scene.control.Label;
import javafx.scene.control.ScrollPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.VBox;
import railproof.app.Sealing;
import railproof.base.BadFileException;
import railproof.diagnosis.Diagnosis;
import railproof.diagnosis.Dictionary;
import railproof.diagnosis.Priors;
import railproof.diagnosis.ProbeNode;
import railproof.diagnosis.Readings;
import railproof.diagnosis.RunReadings;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.profile.UnitPart;
import railproof.record.DictionaryFile;
import railproof.record.Repairs;
import railproof.report.DiagnosisText;

/**
 * Which stage is bad: the path with what is suspected of each stage and the next place for the probe, the suspects with
 * what speaks for and against them, and a meter's readings typed in one node at a time.
 */
final class DiagnosisPane implements ScreenPane {
    private static final int SHOWN = 5;
    private static final double SHOWN_RATIO = 0.01;

    private final Optional<KeptRun> run;
    private final Profile profile;
    private final Path data;
    private final VBox root = new VBox();
    private final DiagnosisPath path = new DiagnosisPath();
    private final Label conclusion =
            Forms.words("Working out what faults of this type look like … (once per type, up to a minute)");
    private final VBox suspects = new VBox();
    private final VBox right = new VBox();
    private final VBox warning = new VBox();
    private final ComboBox<Rail> rail = new ComboBox<>();
    private final ComboBox<UnitPart> part = new ComboBox<>();
    private final Label kept = Forms.hint("");
    private Optional<MeterPane> meter = Optional.empty();
    private int asked;

    /** Of a run. */
    DiagnosisPane(KeptRun run, Window window, Runnable onBack) {
        this(Optional.of(run), run.profile().profile(), window, onBack);
    }

    /** With nothing but a meter. */
    DiagnosisPane(Profile profile, Window window, Runnable onBack) {
        this(Optional.empty(), profile, window, onBack);
    }

    private DiagnosisPane(Optional<KeptRun> run, Profile profile, Window window, Runnable onBack) {
        this.run = run;
        this.profile = profile;
        this.data = window.settings().dataDirectory();
        root.getStyleClass().add("form");
        rail.setId("rail");
        rail.setAccessibleText("Rail");
        rail.setConverter(new ChoiceWords<>(Rail::name));
        rail.setItems(FXCollections.observableList(new ArrayList<>(profile.rails())));
        rail.setValue(worst());
        rail.setOnAction(event -> begin());
        conclusion.setId("conclusion");
        conclusion.getStyleClass().add("now");
        suspects.setId("suspects");
        suspects.getStyleClass().add("suspects");
        right.getStyleClass().add("meter-side");
        Label title = Forms.title("Which stage is bad?");
        title.setMaxWidth(Double.MAX_VALUE);
        HBox.setHgrow(title, Priority.ALWAYS);
        ScrollPane list = Forms.scroll(suspects);
        HBox.setHgrow(list, Priority.ALWAYS);
        ScrollPane side = Forms.scroll(right);
        side.getStyleClass().add("meter-scroll");
        HBox below = new HBox(list, side);
        below.getStyleClass().add("below");
        VBox.setVgrow(below, Priority.ALWAYS);
        HBox top = Forms.row(title, rail, Forms.button("back", "Back", onBack));
        Forms.show(rail, profile.rails().size() > 1);
        root.getChildren().addAll(top, path.root(), conclusion, warning, below);
        run.ifPresent(of -> root.getChildren().add(confirmation(of)));
        begin();
    }

    /** The first rail that has a check which did not pass, else the first. */
    private Rail worst() {
        List<String> bad = run.flatMap(KeptRun::judgement).stream()
                .flatMap(judgement -> judgement.checks().stream())
                .filter(check -> check.verdict() != railproof.judge.Verdict.PASS)
                .map(railproof.judge.Check::rail)
                .toList();
        return profile.rails().stream()
                .filter(each -> bad.contains(each.name()))
                .findFirst()
                .orElse(profile.rails().get(0));
    }

    private HBox confirmation(KeptRun of) {
        part.setId("part");
        part.setAccessibleText("Which part it turned out to be");
        part.setConverter(new ChoiceWords<>(UnitPart::words));
        part.setItems(FXCollections.observableArrayList(UnitPart.values()));
        kept.setId("kept");
        Button keep = Forms.button("keep", "Keep it", () -> keep(of));
        keep.disableProperty().bind(part.valueProperty().isNull());
        Label words = new Label("After the repair, it was the");
        words.setLabelFor(part);
        return Forms.row(words, part, keep, kept);
    }

    private void keep(KeptRun of) {
        UnitPart was = part.getValue();
        Aside.run(
                () -> {
                    Sealing.keepRepair(of.folder(), profile.id(), was);
                    return was;
                },
                done -> kept.setText("✓ kept: it was the " + done.words() + "; the next diagnosis knows"),
                lines -> kept.setText(String.join("; ", lines)));
    }

    private void begin() {
        Rail of = rail.getValue();
        MeterPane asking = new MeterPane(profile, of, readings -> work(of, readings));
        meter = Optional.of(asking);
        right.getChildren().clear();
        warning.getChildren().clear();
        work(of, run.map(kept -> RunReadings.of(kept.run(), profile, of)).orElseGet(Readings::none));
    }

    private void work(Rail of, Readings readings) {
        int number = ++asked;
        Aside.run(
                () -> diagnosed(of, readings),
                diagnosis -> {
                    // an answer that was overtaken by another question is of no use
                    if (number == asked) {
                        show(of, diagnosis);
                    }
                },
                lines -> conclusion.setText(String.join("\n", lines)));
    }

    private Diagnosis diagnosed(Rail of, Readings readings) throws BadFileException {
        Priors priors = Priors.of(profile.faultWeights(), Repairs.confirmed(data, profile.id()));
        Dictionary dictionary = DictionaryFile.of(data, of, profile.line(), () -> {});
        return Diagnosis.of(dictionary, priors, readings);
    }

    private void show(Rail of, Diagnosis diagnosis) {
        Optional<ProbeNode> next = diagnosis.next().stream()
                .findFirst()
                .map(Diagnosis.Advice::node)
                // with nothing read at all, what a unit shows with its cover on comes first
                .map(node -> diagnosis.readings().values().isEmpty() ? ProbeNode.OUTPUT : node);
        path.show(diagnosis, diagnosis.found() ? Optional.empty() : next);
        List<String> said = new ArrayList<>(List.of(DiagnosisText.conclusion(diagnosis)));
        said.addAll(DiagnosisText.doubts(diagnosis));
        conclusion.setText(String.join("\n", said));
        suspects.getChildren().setAll(Forms.heading("Suspects on " + of.name()));
        diagnosis.suspects().stream()
                .limit(SHOWN)
                .filter(suspect -> suspect.probabilityRatio() >= SHOWN_RATIO)
                .forEach(this::suspect);
        suspects.getChildren().add(Forms.words("Nothing wrong: " + DiagnosisText.percent(diagnosis.soundRatio())));
        DiagnosisText.rough(of).forEach(line -> suspects.getChildren().add(Forms.hint(line)));
        suspects.getChildren().add(Forms.hint(String.join(" ", DiagnosisText.next(diagnosis))));
        meter.ifPresent(asking -> {
            right.getChildren().setAll(asking.root());
            warning.getChildren().setAll(asking.cautions());
            asking.ask(diagnosis.readings(), next);
            asking.focus();
        });
        run.ifPresent(kept -> {
            if (part.getValue() == null && diagnosis.found()) {
                part.setValue(diagnosis.suspects().get(0).part());
            }
        });
    }

    private void suspect(Diagnosis.PartSuspect suspect) {
        Label name = Forms.words(String.format(
                Locale.ROOT,
                "%s   %s: %s",
                DiagnosisText.percent(suspect.probabilityRatio()),
                suspect.part().stage().words(),
                suspect.words()));
        name.getStyleClass().add("suspect");
        suspects.getChildren().add(name);
        suspect.evidence().forEach(evidence -> suspects.getChildren().add(evidence(DiagnosisText.evidence(evidence))));
        if (suspect.evidence().isEmpty()) {
            suspects.getChildren().add(evidence(DiagnosisText.together(suspect)));
        }
    }

    private static Label evidence(String words) {
        Label label = Forms.words(words);
        label.getStyleClass().add("evidence");
        return label;
    }

    @Override
    public Parent root() {
        return root;
    }

    @Override
    public void focus() {
        meter.ifPresent(MeterPane::focus);
    }

    @Override
    public String subject() {
        return run.map(KeptRun::subject).orElse(profile.title());
    }

    @Override
    public boolean simulated() {
        return run.map(KeptRun::simulated).orElse(false);
    }
}
