package railproof.ui;

import java.util.Optional;
import javafx.scene.AccessibleRole;
import javafx.scene.Parent;
import javafx.scene.control.Label;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.VBox;
import railproof.base.Measured;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.rig.Glance;
import railproof.run.Quantity;

/**
 * The supply as its own path, from the output back to the line, the way a fault is looked for: each stage a field with
 * its newest readings and how it stands. A stage without a probe says so.
 */
final class PathPane {
    /** Less than this over a pass stage, and regulation is about to be lost (common practice, no source). */
    private static final double LITTLE_ROOM_V = 1;

    private final HBox path = new HBox();
    private final Field output = new Field("Output", "output", true);
    private final Field pass = new Field("Pass stage", "pass", false);
    private final Field drive = new Field("Drive, reference", "drive", false);
    private final Field reservoir = new Field("Reservoir", "reservoir", false);
    private final Field rectifier = new Field("Rectifier", "rectifier", false);
    private final Field line = new Field("Line", "line", false);
    private final Profile profile;

    PathPane(Profile profile) {
        this.profile = profile;
        path.getStyleClass().add("path");
        Field[] fields = {output, pass, drive, reservoir, rectifier, line};
        for (int i = 0; i < fields.length; i++) {
            if (i > 0) {
                Label arrow = new Label("◀");
                arrow.setMinWidth(javafx.scene.layout.Region.USE_PREF_SIZE);
                arrow.getStyleClass().add("path-arrow");
                path.getChildren().add(arrow);
            }
            HBox.setHgrow(fields[i].box, Priority.ALWAYS);
            path.getChildren().add(fields[i].box);
        }
    }

    Parent root() {
        return path;
    }

    void show(RunView view) {
        Rail rail = profile.rails().stream()
                .filter(candidate -> candidate.name().equals(view.rail()))
                .findFirst()
                .orElse(profile.rails().get(0));
        showOutput(view, rail);
        Optional<Double> base = value(view, Quantity.BASE);
        Optional<Double> raw = value(view, Quantity.RAW);
        Optional<Double> out = value(view, Quantity.OUTPUT);
        Optional<Double> rawRipple = value(view, Quantity.RAW_RIPPLE_PP);
        String drop = base.isPresent() && out.isPresent()
                ? "base " + volts(Math.abs(base.get()) - Math.abs(out.get())) + " above output"
                : "base: no probe";
        Optional<Double> headroomV = raw.isPresent() && out.isPresent()
                ? Optional.of(Math.abs(raw.get()) - rawRipple.orElse(0.0) / 2 - Math.abs(out.get()))
                : Optional.empty();
        pass.show(
                headroomV.map(PathPane::volts).orElse("–"),
                "headroom at the trough",
                drop + "\nheat sink " + Glances.of(view.reading(Quantity.HEAT_SINK)));
        pass.health(headroomV
                .map(v -> v > LITTLE_ROOM_V ? Health.ROOM : Health.WATCH)
                .orElse(Health.UNKNOWN));
        drive.show(
                Glances.of(view.reading(Quantity.REFERENCE)),
                "reference",
                "sense tap " + Glances.of(view.reading(Quantity.SENSE_TAP)));
        drive.health(Health.UNKNOWN);
        reservoir.show(
                Glances.of(view.reading(Quantity.RAW)),
                "mean",
                "ripple " + Glances.of(view.reading(Quantity.RAW_RIPPLE_PP)) + " p-p");
        reservoir.health(Health.UNKNOWN);
        rectifier.show(RawRipple.words(view.rawRipple()), "conducts", "from the ripple at the reservoir");
        rectifier.health(
                view.rawRipple().isEmpty()
                        ? Health.UNKNOWN
                        : RawRipple.suspicious(view.rawRipple()) ? Health.WATCH : Health.USUAL);
        line.show(
                Glances.of(view.reading(Quantity.LINE)),
                "at the inlet",
                Glances.of(view.reading(Quantity.LINE_FREQUENCY)));
        line.health(Health.UNKNOWN);
    }

    private void showOutput(RunView view, Rail rail) {
        Glance glance = view.glance();
        Reading taken = view.reading(Quantity.OUTPUT);
        Optional<Double> shownV =
                glance.rail().equals(rail.name()) && glance.outputV().isPresent()
                        ? Optional.of(glance.outputV().getAsDouble())
                        : taken.measured().map(Measured::value);
        output.title.setText("Output  " + rail.name());
        output.show(
                shownV.map(v -> Glances.read(v, Unit.VOLT)).orElse("–"),
                "at the last point " + Glances.of(view.reading(Quantity.LOAD_CURRENT)) + " drawn,",
                "ripple " + Glances.of(view.reading(Quantity.RIPPLE_PP)) + " p-p");
        output.health(shownV.map(v -> rail.limits().outputV().contains(v) ? Health.FINE : Health.OUTSIDE)
                .orElse(Health.UNKNOWN));
    }

    private static Optional<Double> value(RunView view, Quantity quantity) {
        return view.reading(quantity).measured().map(Measured::value);
    }

    private static String volts(double volts) {
        return Glances.read(volts, Unit.VOLT);
    }

    /** How a stage stands: a sign and a word each, so that colour is not needed. */
    private enum Health {
        FINE("✓ in limits", "health-fine"),
        ROOM("✓ has room", "health-fine"),
        USUAL("✓ as usual", "health-fine"),
        WATCH("! look here", "health-watch"),
        OUTSIDE("✗ outside limits", "health-outside"),
        UNKNOWN("", "health-unknown");

        private final String words;
        private final String style;

        Health(String words, String style) {
            this.words = words;
            this.style = style;
        }
    }

    /** One stage. */
    private static final class Field {
        private final VBox box = new VBox();
        private final Label title;
        private final Label main = new Label();
        private final Label what = new Label();
        private final Label more = new Label();
        private final Label health = new Label();

        Field(String name, String id, boolean large) {
            title = new Label(name);
            box.setId("stage-" + id);
            box.getStyleClass().add("stage");
            box.setAccessibleRole(AccessibleRole.TEXT);
            title.getStyleClass().add("stage-title");
            main.setId(id + "-now");
            main.getStyleClass().add(large ? "reading-large" : "reading");
            more.getStyleClass().add("stage-more");
            what.getStyleClass().add("stage-more");
            health.getStyleClass().add("stage-health");
            what.setWrapText(true);
            more.setWrapText(true);
            main.setWrapText(true);
            box.getChildren().addAll(title, main, what, more, health);
        }

        void show(String reading, String words, String further) {
            main.setText(reading);
            what.setText(words);
            more.setText(further);
            box.setAccessibleText(title.getText() + ": " + reading + " " + words + ", " + further);
        }

        void health(Health how) {
            health.setText(how.words);
            box.getStyleClass().removeIf(style -> style.startsWith("health-"));
            box.getStyleClass().add(how.style);
        }
    }
}
