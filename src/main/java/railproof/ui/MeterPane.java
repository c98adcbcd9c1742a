package railproof.ui;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import javafx.collections.FXCollections;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.CheckBox;
import javafx.scene.control.ComboBox;
import javafx.scene.control.Label;
import javafx.scene.control.TextField;
import javafx.scene.layout.VBox;
import railproof.diagnosis.MeterQuestion;
import railproof.diagnosis.ProbeNode;
import railproof.diagnosis.Readings;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.report.DiagnosisText;

/**
 * Asks for a meter's readings at the node that tells most, or at another one the operator would rather read. Before the
 * first node under the cover, the cautions have to be read and ticked.
 */
final class MeterPane {
    private final Profile profile;
    private final Rail rail;
    private final Consumer<Readings> taken;
    private final VBox root = new VBox();
    private final ComboBox<ProbeNode> node = new ComboBox<>();
    private final VBox questions = new VBox();
    private final VBox cautions = new VBox();
    private final CheckBox read = new CheckBox("I have read this, and I am trained for it.");
    private final Button take = Forms.mainButton("take", "Take these readings  (Enter)", this::take);
    private final VBox problems = new VBox();
    private final Map<MeterQuestion, TextField> fields = new LinkedHashMap<>();
    private Readings known = Readings.none();

    /**
     * A pane.
     *
     * @param taken told the readings with what was typed
     */
    MeterPane(Profile profile, Rail rail, Consumer<Readings> taken) {
        this.profile = profile;
        this.rail = rail;
        this.taken = taken;
        root.getStyleClass().add("meter");
        node.setId("node");
        node.setAccessibleText("Where the meter is put");
        node.setItems(FXCollections.observableArrayList(ProbeNode.values()));
        node.setConverter(new ChoiceWords<>(ProbeNode::words));
        node.setOnAction(event -> asked());
        read.setId("cautions-read");
        read.setWrapText(true);
        read.setOnAction(event -> {
            asked();
            focus();
        });
        cautions.getStyleClass().add("cautions");
        Label heading = Forms.heading("Your meter at the");
        heading.setLabelFor(node);
        problems.setId("meter-problems");
        questions.getStyleClass().add("ticks");
        root.getChildren().addAll(heading, node, questions, take, problems);
        DiagnosisText.cautions(profile).forEach(words -> cautions.getChildren().add(Forms.words("! " + words)));
        cautions.getChildren().add(read);
    }

    Parent root() {
        return root;
    }

    /** What has to be read and ticked first; hidden while it has not to. To be shown as wide as it goes. */
    Parent cautions() {
        return cautions;
    }

    /** Asks at the node that tells most. */
    void ask(Readings readings, Optional<ProbeNode> next) {
        known = readings;
        node.setValue(next.orElse(ProbeNode.OUTPUT));
        asked();
    }

    private void asked() {
        ProbeNode at = Optional.ofNullable(node.getValue()).orElse(ProbeNode.OUTPUT);
        boolean wait = at.inside() && !read.isSelected();
        Forms.show(cautions, wait);
        Forms.show(questions, !wait);
        take.setDisable(wait);
        fields.clear();
        questions.getChildren().clear();
        for (MeterQuestion question : MeterQuestion.at(at)) {
            TextField field = new TextField();
            field.setId("meter-" + fields.size());
            field.setPromptText("12.1, 850m; empty leaves it out");
            Label label = Forms.words(question.words());
            label.setLabelFor(field);
            field.setAccessibleText(question.words());
            fields.put(question, field);
            questions.getChildren().addAll(label, field);
        }
    }

    private void take() {
        List<String> wrong = new ArrayList<>();
        Readings more = known;
        for (Map.Entry<MeterQuestion, TextField> each : fields.entrySet()) {
            String typed = each.getValue().getText().strip();
            if (typed.isEmpty()) {
                continue;
            }
            OptionalDouble number = MeterQuestion.number(typed);
            if (number.isEmpty()) {
                wrong.add("\"" + typed + "\" is no number such as 12.1 or 850m");
                continue;
            }
            Optional<Readings> with = each.getKey().taken(number.getAsDouble(), rail, profile.line(), more);
            if (with.isEmpty()) {
                wrong.add("The output " + each.getKey().at().words()
                        + " is not known, so the base says nothing: read the output first");
            }
            more = with.orElse(more);
        }
        Forms.tell(problems, wrong);
        if (wrong.isEmpty()) {
            taken.accept(more);
        }
    }

    /** Puts the keyboard on the first question, or on the cautions before it. */
    void focus() {
        if (cautions.isVisible()) {
            read.requestFocus();
        } else {
            // a field takes keys only once it has its skin: what is typed at once would be lost, but for the Enter
            root.applyCss();
            fields.values().stream().findFirst().ifPresent(TextField::requestFocus);
        }
    }
}
