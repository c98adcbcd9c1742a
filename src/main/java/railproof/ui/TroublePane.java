package railproof.ui;

import java.util.List;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.ScrollPane;
import javafx.scene.layout.Priority;
import javafx.scene.layout.VBox;

/** What is in the way, every problem with its place. */
final class TroublePane implements ScreenPane {
    private final VBox box = new VBox();
    private final Button back;

    TroublePane(List<String> problems, Runnable onBack) {
        box.getStyleClass().add("form");
        VBox lines = new VBox();
        lines.setId("trouble");
        lines.getStyleClass().add("ticks");
        Forms.tell(lines, problems);
        ScrollPane scroll = Forms.scroll(lines);
        VBox.setVgrow(scroll, Priority.SOMETIMES);
        back = Forms.mainButton("back", "Back  (Enter)", onBack);
        box.getChildren()
                .addAll(
                        Forms.title(problems.size() == 1 ? "Not possible like this" : problems.size() + " problems"),
                        scroll,
                        back);
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
