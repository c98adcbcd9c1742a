package railproof.ui;

import javafx.scene.Parent;
import javafx.scene.layout.VBox;

/** Says what is being waited for. */
final class WaitPane implements ScreenPane {
    private final VBox box = new VBox();

    WaitPane(String words) {
        box.getStyleClass().add("form");
        box.getChildren().add(Forms.words(words));
    }

    @Override
    public Parent root() {
        return box;
    }

    @Override
    public void focus() {
        box.requestFocus();
    }
}
