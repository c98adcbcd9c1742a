package railproof.ui;

import java.util.Locale;
import javafx.scene.AccessibleRole;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.VBox;
import org.jspecify.annotations.Nullable;

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
    private @Nullable Power shown;

    StopBar(Runnable onStop) {
        bar.getStyleClass().add("stop-bar");
        stop.setId("stop");
        stop.getStyleClass().add("stop-button");
        // Escape works from everywhere; a focus on it would let the space bar of a barcode scanner stop a run
        stop.setFocusTraversable(false);
        stop.setAccessibleText("Stop: load off at once, then line off; Escape works from everywhere");
        stop.setOnAction(event -> onStop.run());
        stop.setMaxWidth(Double.MAX_VALUE);
        hint.setId("stop-hint");
        hint.setWrapText(true);
        hint.getStyleClass().add("stop-hint");
        VBox right = new VBox(stop, hint);
        HBox.setHgrow(right, Priority.ALWAYS);
        bar.getChildren().addAll(load, line, right);
        show(Power.IDLE);
    }

    private static Label state(String id) {
        Label label = new Label();
        label.setId(id);
        label.setAccessibleRole(AccessibleRole.TEXT);
        label.setWrapText(true);
        label.getStyleClass().add("power-state");
        return label;
    }

    Parent root() {
        return bar;
    }

    void show(Power power) {
        if (power.equals(shown)) {
            return;
        }
        shown = power;
        show(load, "LOAD", power.load());
        show(line, "LINE", power.line());
        stop.setDisable(!power.canStop());
        hint.setText(power.hint());
    }

    private static void show(Label label, String name, Power.Field field) {
        String state =
                switch (field.state()) {
                    case OFF -> name;
                    case ON -> name + " ON";
                    case DOUBT -> name + " ?";
                };
        label.setText(state + "\n" + field.detail());
        label.setAccessibleText(state.toLowerCase(Locale.ROOT) + ", " + field.detail());
        label.getStyleClass().remove("power-on");
        if (field.state() != Power.State.OFF) {
            label.getStyleClass().add("power-on");
        }
    }
}
