package railproof.ui;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import javafx.scene.AccessibleRole;
import javafx.scene.Parent;
import javafx.scene.control.Label;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;
import railproof.diagnosis.Diagnosis;
import railproof.diagnosis.ProbeNode;
import railproof.profile.SupplyStage;
import railproof.report.DiagnosisText;

/**
 * The supply's own path with what is suspected of each stage, and where the probe goes next. The place of the probe is
 * marked by a word and a thick edge, so that colour is not needed.
 */
final class DiagnosisPath {
    /** From here on a stage is worth looking at. */
    private static final double SUSPICIOUS_RATIO = 0.1;

    /** The path from the output back to the line. */
    static final List<Part> PARTS = List.of(
            new Part("output", "Output", Set.of(SupplyStage.OUTPUT), Set.of(ProbeNode.OUTPUT, ProbeNode.LOAD_TESTS)),
            new Part(
                    "pass",
                    "Pass stage, limiter",
                    Set.of(SupplyStage.PASS, SupplyStage.LIMITER),
                    Set.of(ProbeNode.BASE, ProbeNode.HEAT_SINK)),
            new Part(
                    "drive",
                    "Drive, reference",
                    Set.of(SupplyStage.REFERENCE, SupplyStage.ERROR),
                    Set.of(ProbeNode.REFERENCE, ProbeNode.SENSE_TAP)),
            new Part("reservoir", "Reservoir", Set.of(SupplyStage.RESERVOIR), Set.of(ProbeNode.RAW)),
            new Part("rectifier", "Rectifier", Set.of(SupplyStage.RECTIFIER), Set.of()),
            new Part("line", "Line", Set.of(SupplyStage.INPUT), Set.of(ProbeNode.LINE)));

    private final HBox path = new HBox();
    private final List<Stop> stops = PARTS.stream().map(Stop::new).toList();

    /** One stage as the path draws it, with the stages of the model and the nodes that belong to it. */
    record Part(String id, String name, Set<SupplyStage> stages, Set<ProbeNode> nodes) {}

    /** A part of the path on the screen. */
    private static final class Stop {
        private final Part part;
        private final VBox box = new VBox();
        private final Label suspicion = new Label();
        private final Label probe = new Label();

        Stop(Part part) {
            this.part = part;
            Label read = Forms.words(
                    part.nodes.isEmpty()
                            ? "read by the ripple after it"
                            : part.nodes.stream().sorted().map(ProbeNode::words).collect(Collectors.joining(", ")));
            read.getStyleClass().add("stage-more");
            suspicion.getStyleClass().add("reading");
            probe.getStyleClass().add("stage-health");
            probe.setWrapText(true);
            box.setId("suspect-" + part.id);
            box.setAccessibleRole(AccessibleRole.TEXT);
            box.getStyleClass().addAll("stage", "suspect-stage");
            box.getChildren().addAll(Forms.heading(part.name), suspicion, probe, read);
        }

        void show(Diagnosis diagnosis, Optional<ProbeNode> next) {
            double ratio = diagnosis.stages().stream()
                    .filter(stage -> part.stages.contains(stage.stage()))
                    .mapToDouble(Diagnosis.StageSuspect::probabilityRatio)
                    .sum();
            suspicion.setText(DiagnosisText.percent(ratio));
            boolean here = next.filter(part.nodes::contains).isPresent();
            probe.setText(here ? "▼ PROBE HERE NEXT" : ratio >= SUSPICIOUS_RATIO ? "! suspect" : "");
            box.getStyleClass().removeAll("probe-here", "health-watch");
            if (here) {
                box.getStyleClass().add("probe-here");
            } else if (ratio >= SUSPICIOUS_RATIO) {
                box.getStyleClass().add("health-watch");
            }
            box.setAccessibleText(part.name + ": suspected " + suspicion.getText() + " " + probe.getText());
        }
    }

    DiagnosisPath() {
        path.getStyleClass().add("path");
        // what a stage is read at is shown whole, whatever has to make room for it
        path.setMinHeight(Region.USE_PREF_SIZE);
        for (int i = 0; i < stops.size(); i++) {
            if (i > 0) {
                Label arrow = new Label("◀");
                arrow.setMinWidth(Region.USE_PREF_SIZE);
                arrow.getStyleClass().add("path-arrow");
                path.getChildren().add(arrow);
            }
            VBox box = stops.get(i).box;
            HBox.setHgrow(box, Priority.ALWAYS);
            box.setMaxWidth(Double.MAX_VALUE);
            path.getChildren().add(box);
        }
    }

    Parent root() {
        return path;
    }

    /**
     * Shows a diagnosis.
     *
     * @param next where the probe goes; empty if nowhere
     */
    void show(Diagnosis diagnosis, Optional<ProbeNode> next) {
        stops.forEach(stop -> stop.show(diagnosis, next));
    }
}
