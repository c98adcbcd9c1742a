package railproof.ui;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/**
 * Above every screen: the ways to all others with their keys, what the screen is about, whether it is simulated, and
 * whatever wants to be looked at.
 */
final class Header {
    private final VBox root = new VBox();
    private final Map<Place, Button> ways = new EnumMap<>(Place.class);
    private final Label subject = new Label();
    private final Label simulated = new Label("SIMULATED · no real unit is measured");
    private final Label wants = Forms.words("");
    private final HBox wanting;
    private final Label alarm = Forms.words("");
    private final HBox alarming;

    Header(Consumer<Place> go, Runnable theme, Runnable seen) {
        Label name = new Label("Railproof");
        name.setMinWidth(Region.USE_PREF_SIZE);
        name.getStyleClass().add("program-name");
        HBox line = new HBox(name);
        line.getStyleClass().add("header");
        for (Place place : Place.values()) {
            Button way =
                    Forms.button(place.id(), place.words() + "  " + place.key().getName(), () -> go.accept(place));
            way.getStyleClass().add("way");
            // function keys lead there: Tab belongs to the screen
            way.setFocusTraversable(false);
            way.setAccessibleText(
                    "Go to " + place.words() + ", key " + place.key().getName());
            ways.put(place, way);
            line.getChildren().add(way);
        }
        Region gap = new Region();
        HBox.setHgrow(gap, Priority.ALWAYS);
        Button light = Forms.button("theme", "Light / dark  F6", theme);
        light.getStyleClass().add("way");
        light.setFocusTraversable(false);
        light.setAccessibleText("Light or dark, key F6");
        line.getChildren().addAll(gap, light);
        subject.setId("subject");
        subject.getStyleClass().add("subject");
        subject.setMaxWidth(Double.MAX_VALUE);
        HBox.setHgrow(subject, Priority.ALWAYS);
        simulated.setId("simulated-mark");
        simulated.setMinWidth(Region.USE_PREF_SIZE);
        simulated.getStyleClass().add("simulated-mark");
        HBox about = new HBox(subject, simulated);
        about.getStyleClass().add("about");
        wants.setId("wants");
        wanting = new HBox(wants);
        wanting.getStyleClass().add("wants");
        alarm.setId("alarm");
        HBox.setHgrow(alarm, Priority.ALWAYS);
        alarm.setMaxWidth(Double.MAX_VALUE);
        Button acknowledge = Forms.button("seen", "Seen  F8", seen);
        acknowledge.setAccessibleText("Say that the alarms were seen, key F8");
        alarming = new HBox(alarm, acknowledge);
        alarming.getStyleClass().add("alarm");
        root.getChildren().addAll(line, about, wanting, alarming);
        wants("");
        alarms(List.of(), false);
    }

    Parent root() {
        return root;
    }

    /** Shows which screen is there. */
    void at(Place place) {
        ways.forEach((each, way) -> {
            way.getStyleClass().remove("way-here");
            if (each == place) {
                way.getStyleClass().add("way-here");
            }
        });
    }

    /** Marks what is shown, or under way, as of no real unit. */
    void simulated(boolean shown) {
        simulated.setVisible(shown);
    }

    void subject(String words) {
        subject.setText(words);
    }

    /** What is under way elsewhere, or asks for an answer there; nothing if empty. */
    void wants(String words) {
        if (!words.equals(wants.getText()) || wanting.isVisible() == words.isEmpty()) {
            wants.setText(words);
            Forms.show(wanting, !words.isEmpty());
        }
    }

    /** Alarms nobody has seen yet. */
    void alarms(List<String> open, boolean deaf) {
        Forms.show(alarming, !open.isEmpty());
        if (!open.isEmpty()) {
            String more = open.size() > 1 ? "   (and " + (open.size() - 1) + " more)" : "";
            alarm.setText("▲ ALARM   " + open.get(0) + more + (deaf ? "   [this machine has no sound]" : ""));
        }
    }
}
