package railproof.ui;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import javafx.scene.Parent;
import javafx.scene.control.RadioButton;
import javafx.scene.control.ToggleGroup;
import javafx.scene.layout.GridPane;
import javafx.scene.layout.VBox;
import railproof.app.RunRequest;
import railproof.base.Problem;
import railproof.profile.Profile;
import railproof.profile.ProfileFile;
import railproof.run.Stage;

/** Where a test begins: the unit, its profile, the bench. */
final class StartPane implements ScreenPane {
    private final Consumer<RunRequest> onward;
    private final Consumer<Profile> meterOnly;
    private final VBox root = new VBox();
    private final UnitForm form;
    private final RadioButton asFound = new RadioButton("as found (before the repair)");
    private final RadioButton asLeft = new RadioButton("as left (after it)");
    private final VBox problems = new VBox();

    /**
     * An empty start.
     *
     * @param onward told what is to be tested
     * @param meterOnly told of which type a unit shall be diagnosed with nothing but a meter
     */
    StartPane(WindowSettings settings, Consumer<RunRequest> onward, Consumer<Profile> meterOnly) {
        this.onward = onward;
        this.meterOnly = meterOnly;
        form = new UnitForm(settings, this::proceed, problems.getChildren()::clear);
        root.getStyleClass().add("form");
        ToggleGroup stages = new ToggleGroup();
        asFound.setId("as-found");
        asFound.setToggleGroup(stages);
        asLeft.setId("as-left");
        asLeft.setToggleGroup(stages);
        asLeft.setSelected(true);
        GridPane grid = Forms.grid();
        form.serialRow(grid);
        Forms.field(grid, "Stage", Forms.row(asFound, asLeft));
        form.otherRows(grid);
        problems.setId("problems");
        root.getChildren()
                .addAll(
                        Forms.title("Which unit is on the bench?"),
                        grid,
                        Forms.row(
                                Forms.mainButton("continue", "Continue  (Enter)", this::proceed),
                                Forms.button("meter-only", "Diagnose with a meter only", this::diagnose)),
                        problems);
    }

    private void proceed() {
        List<Problem> found = new ArrayList<>();
        Optional<RunRequest> request = form.read(asFound.isSelected() ? Stage.AS_FOUND : Stage.AS_LEFT, found);
        Forms.tell(problems, found.stream().map(Problem::text).toList());
        request.ifPresent(onward);
    }

    private void diagnose() {
        List<Problem> found = new ArrayList<>();
        Optional<ProfileFile> profile = form.profile(found);
        Forms.tell(problems, found.stream().map(Problem::text).toList());
        profile.ifPresent(file -> meterOnly.accept(file.profile()));
    }

    /** What a run is about, for the header. */
    static String subject(RunRequest request) {
        return "Unit " + request.unitSerial() + "  ·  " + request.stage().label() + "  ·  "
                + request.profile().profile().title();
    }

    @Override
    public Parent root() {
        return root;
    }

    @Override
    public void focus() {
        form.focus();
    }
}
