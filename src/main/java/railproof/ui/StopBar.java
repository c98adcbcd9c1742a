package railproof.ui;

import java.util.Locale;
import javafx.scene.AccessibleRole;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;
import org.jspecify.annotations.Nullable;

/**
 * Below every screen: whether load and line are on, in words and shape, and the stop. A field that is on is filled, one
 * that is off is only an outline; colour says nothing that the words do not.
 */
final class StopBar {
    private final HBox bar = new HBox();
    private final Field load = new Field("LOAD", "load");
    private final Field line = new Field("LINE", "line");
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
        bar.getChildren().addAll(load.box, line.box, right);
        show(Power.IDLE);
    }

    Parent root() {
        return bar;
    }

    void show(Power power) {
        if (power.equals(shown)) {
            return;
        }
        shown = power;
        load.show(power.load());
        line.show(power.line());
        stop.setDisable(!power.canStop());
        hint.setText(power.hint());
        hint.getStyleClass().remove("stop-doubt");
        if (power.load().state() == Power.State.DOUBT || power.line().state() == Power.State.DOUBT) {
            hint.getStyleClass().add("stop-doubt");
        }
    }

    /** Load or line: its state large enough for the other end of the bench, and below it how much or how sure. */
    private static final class Field {
        private final String name;
        private final VBox box = new VBox();
        private final Label state = new Label();
        private final Label detail = new Label();

        Field(String name, String id) {
            this.name = name;
            state.setId(id + "-state");
            state.setMinWidth(Region.USE_PREF_SIZE);
            state.getStyleClass().add("power-word");
            detail.setId(id + "-detail");
            detail.setWrapText(true);
            box.setAccessibleRole(AccessibleRole.TEXT);
            box.getStyleClass().add("power-state");
            box.getChildren().addAll(state, detail);
        }

        void show(Power.Field field) {
            state.setText(
                    switch (field.state()) {
                        case UNUSED -> name;
                        case OFF -> name + " OFF";
                        case ON -> name + " ON";
                        case DOUBT -> name + " ?";
                    });
            detail.setText(field.detail());
            box.setAccessibleText(state.getText().toLowerCase(Locale.ROOT) + ", " + field.detail());
            box.getStyleClass().remove("power-on");
            if (field.state() == Power.State.ON || field.state() == Power.State.DOUBT) {
                box.getStyleClass().add("power-on");
            }
        }
    }
}
