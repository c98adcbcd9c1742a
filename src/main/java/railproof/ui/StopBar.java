package railproof.ui;

import java.util.Map;
import java.util.stream.Collectors;
import javafx.scene.AccessibleRole;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.VBox;
import railproof.base.Unit;
import railproof.report.Quantities;
import railproof.rig.Glance;
import railproof.run.SafeState;
import railproof.run.Setpoint;

/**
 * Below every screen: whether load and line are on, in words and shape, and the stop. A field that is on is filled, one
 * that is off is only an outline; colour says nothing that the words do not.
 */
final class StopBar {
    private final HBox bar = new HBox();
    private final Label load = state("load-state");
    private final Label line = state("line-state");
    private final Label hint = new Label();
    private final Button stop = new Button("STOP  (Esc)");

    StopBar(Runnable onStop) {
        bar.getStyleClass().add("stop-bar");
        stop.setId("stop");
        stop.getStyleClass().add("stop-button");
        // Escape works from everywhere; a focus on it would let the space bar of a barcode scanner stop a run
        stop.setFocusTraversable(false);
        stop.setAccessibleText("Stop: load off at once, then line off");
        stop.setOnAction(event -> onStop.run());
        stop.setMaxWidth(Double.MAX_VALUE);
        hint.getStyleClass().add("stop-hint");
        VBox right = new VBox(stop, hint);
        HBox.setHgrow(right, Priority.ALWAYS);
        bar.getChildren().addAll(load, line, right);
        idle();
    }

    private static Label state(String id) {
        Label label = new Label();
        label.setId(id);
        label.setAccessibleRole(AccessibleRole.TEXT);
        label.getStyleClass().add("power-state");
        return label;
    }

    Parent root() {
        return bar;
    }

    /** No run: this program holds nothing on. */
    void idle() {
        off(load, "LOAD", "not in use");
        off(line, "LINE", "not in use");
        stop.setDisable(true);
        hint.setText("No run. This program has nothing switched on.");
    }

    void show(RunView view) {
        Glance glance = view.glance();
        if (view.outcome().isPresent()) {
            ended(view.outcome().get().safeState());
            return;
        }
        if (glance.loadOn()) {
            on(load, "LOAD ON", loads(glance.loads()));
        } else {
            off(load, "LOAD", "off");
        }
        if (glance.lineOn()) {
            on(line, "LINE ON", Quantities.plain(glance.lineV(), Unit.VOLT));
        } else {
            off(line, "LINE", "off");
        }
        boolean stopping = view.phase() == RunView.Phase.STOPPING;
        stop.setDisable(stopping || !view.live());
        hint.setText(
                stopping
                        ? "Stopping: load off, then line off …"
                        : "Takes the load off at once, then the line. The emergency stop on the bench works without"
                                + " this program.");
    }

    private void ended(SafeState safe) {
        stop.setDisable(true);
        switch (safe) {
            case CONFIRMED -> {
                off(load, "LOAD", "off, confirmed");
                off(line, "LINE", "off, confirmed");
                hint.setText("The run is over. Capacitors keep their charge: measure before you touch.");
            }
            case COMMANDED, UNKNOWN -> {
                on(load, "LOAD ?", "not confirmed");
                on(line, "LINE ?", "not confirmed");
                hint.setText("NOT CONFIRMED that everything is off. Switch the mains off by hand, then look.");
            }
        }
    }

    private static void on(Label label, String state, String detail) {
        label.setText(state + "\n" + detail);
        label.getStyleClass().remove("power-on");
        label.getStyleClass().add("power-on");
    }

    private static void off(Label label, String state, String detail) {
        label.setText(state + "\n" + detail);
        label.getStyleClass().remove("power-on");
    }

    private static String loads(Map<String, Setpoint> loads) {
        return loads.entrySet().stream()
                .map(entry -> (loads.size() > 1 ? entry.getKey() + " " : "") + setpoint(entry.getValue()))
                .collect(Collectors.joining(", "));
    }

    private static String setpoint(Setpoint asked) {
        Unit unit =
                switch (asked.mode()) {
                    case "CV" -> Unit.VOLT;
                    case "CR" -> Unit.OHM;
                    default -> Unit.AMPERE;
                };
        return Glances.rounded(asked.level(), unit);
    }
}
