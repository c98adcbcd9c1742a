package railproof.ui;

import java.util.List;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.layout.VBox;
import railproof.base.Problem;

/** What is wrong with a file, every problem with its place. */
final class TroublePane implements ScreenPane {
    private final VBox box = new VBox();
    private final Button back = new Button("Back  (Enter)");

    TroublePane(List<Problem> problems, Runnable onBack) {
        box.getStyleClass().add("form");
        Label title = new Label(problems.size() == 1 ? "1 problem" : problems.size() + " problems");
        title.getStyleClass().add("screen-title");
        box.getChildren().add(title);
        for (Problem problem : problems) {
            Label line = new Label(problem.text());
            line.setWrapText(true);
            line.getStyleClass().add("problem");
            box.getChildren().add(line);
        }
        back.setDefaultButton(true);
        back.setOnAction(event -> onBack.run());
        box.getChildren().add(back);
    }

    @Override
    public Parent root() {
        return box;
    }

    @Override
    public void focus() {
        back.requestFocus();
    }
}
