package railproof.ui;

import java.util.ArrayList;
import java.util.List;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.CheckBox;
import javafx.scene.control.Label;
import javafx.scene.control.ScrollPane;
import javafx.scene.control.TextField;
import javafx.scene.input.KeyCode;
import javafx.scene.input.KeyEvent;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;
import railproof.app.RunRequest;
import railproof.base.Unit;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.report.Quantities;

/**
 * What has to be true before anything is switched on, each to be ticked: Space ticks and moves on. A unit that carries
 * more than 60 V d.c. asks for a second step: the highest voltage it can carry, typed as read off its cover.
 */
final class ChecklistPane implements ScreenPane {
    private final VBox root = new VBox();
    private final List<CheckBox> ticks = new ArrayList<>();
    private final Button start = new Button("Start  (Enter)");
    private final TextField second = new TextField();
    private final Label left = Forms.hint("");
    private final RunRequest request;
    private final boolean secondStep;
    private final long highestV;

    ChecklistPane(RunRequest request, Runnable onStart, Runnable onBack) {
        this.request = request;
        Profile profile = request.profile().profile();
        secondStep = profile.rails().stream().anyMatch(Rail::hazardousLive);
        highestV = Math.round(
                profile.rails().stream().mapToDouble(Rail::overVoltageV).max().orElse(0));
        root.getStyleClass().add("form");
        Label title = new Label("Before anything is switched on");
        title.getStyleClass().add("screen-title");
        VBox list = new VBox();
        list.getStyleClass().add("checklist");
        for (String item : items(profile)) {
            CheckBox tick = new CheckBox(item);
            tick.setWrapText(true);
            tick.selectedProperty().addListener((at, before, now) -> ticked(tick, now));
            ticks.add(tick);
            list.getChildren().add(tick);
        }
        if (secondStep) {
            list.getChildren().add(secondStep());
        }
        ScrollPane scroll = new ScrollPane(list);
        scroll.setFitToWidth(true);
        scroll.getStyleClass().add("plain-scroll");
        scroll.setFocusTraversable(false);
        VBox.setVgrow(scroll, Priority.ALWAYS);
        start.setId("start");
        start.getStyleClass().add("main-button");
        start.setDisable(true);
        start.setOnAction(event -> onStart.run());
        start.setDefaultButton(true);
        // Space ticks, Enter starts: no key that is held down may go through the list and switch on
        start.addEventFilter(KeyEvent.ANY, event -> {
            if (event.getCode() == KeyCode.SPACE) {
                event.consume();
            }
        });
        Button back = new Button("Back");
        back.setId("checklist-back");
        back.setOnAction(event -> onBack.run());
        left.setId("checklist-left");
        HBox buttons = Forms.row(start, back, left);
        root.getChildren().addAll(title, scroll, buttons);
        ready();
    }

    private VBox secondStep() {
        Label words =
                new Label("HAZARDOUS VOLTAGE. This unit can carry " + Quantities.plain((double) highestV, Unit.VOLT)
                        + " d.c. Cover it and keep everybody away. Local codes and licensed practice"
                        + " come first. To confirm, type that voltage as a number:");
        words.setWrapText(true);
        words.getStyleClass().add("hazard");
        second.setId("second-step");
        second.setPrefColumnCount(6);
        second.setMaxWidth(Region.USE_PREF_SIZE);
        second.getStyleClass().add("prompt-words");
        second.setAccessibleText("Highest voltage in volts, typed to confirm");
        second.textProperty().addListener((at, before, now) -> ready());
        VBox step = new VBox(words, second);
        step.getStyleClass().add("second-step");
        return step;
    }

    private static List<String> items(Profile profile) {
        List<String> items = new ArrayList<>();
        items.add("Mains reach the unit through the rig, an isolating transformer and a residual-current device.");
        items.add("The emergency stop is within reach, and it was tried today.");
        items.add(
                "Load leads are bolted to the terminals with the load off; sense leads sit on the terminals themselves.");
        items.add("Nothing loose lies on the unit. Its heat sinks will get hot and may be live.");
        items.addAll(profile.cautions());
        return items;
    }

    private void ticked(CheckBox tick, boolean now) {
        ready();
        int next = ticks.indexOf(tick) + 1;
        if (now && next < ticks.size()) {
            ticks.get(next).requestFocus();
        } else if (now) {
            (secondStep ? second : start).requestFocus();
        }
    }

    private void ready() {
        boolean all = ticks.stream().allMatch(CheckBox::isSelected);
        boolean confirmed = !secondStep || second.getText().strip().equals(Long.toString(highestV));
        start.setDisable(!(all && confirmed));
        left.setText(
                all
                        ? confirmed ? "" : "The voltage is still to be typed."
                        : ticks.stream().filter(tick -> !tick.isSelected()).count()
                                + " still to be ticked: Space ticks and moves on.");
    }

    @Override
    public Parent root() {
        return root;
    }

    @Override
    public void focus() {
        ticks.get(0).requestFocus();
    }

    @Override
    public String subject() {
        return StartPane.subject(request);
    }

    @Override
    public boolean simulated() {
        return request.rig().config().simulation().isPresent();
    }
}
