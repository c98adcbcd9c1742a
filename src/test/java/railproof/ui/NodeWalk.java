package railproof.ui;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import javafx.scene.Node;
import javafx.scene.Parent;
import javafx.scene.control.ButtonBase;
import javafx.scene.control.CheckBox;
import javafx.scene.control.ComboBoxBase;
import javafx.scene.control.Label;
import javafx.scene.control.Labeled;
import javafx.scene.control.ListView;
import javafx.scene.control.ProgressBar;
import javafx.scene.control.TableView;
import javafx.scene.control.TextInputControl;
import javafx.scene.text.Text;

/** Walks over all that is on the screen. On the window's thread. */
final class NodeWalk {
    private NodeWalk() {}

    /** Whether a node and everything around it is visible. */
    static boolean seen(Node node) {
        for (Node each = node; each != null; each = each.getParent()) {
            if (!each.isVisible()) {
                return false;
            }
        }
        return node.getScene() != null;
    }

    private static void walk(Node node, Consumer<Node> visitor) {
        if (!node.isVisible()) {
            return;
        }
        visitor.accept(node);
        if (node instanceof Parent parent) {
            parent.getChildrenUnmodifiable().forEach(child -> walk(child, visitor));
        }
    }

    /** Controls that a screen reader has no name for. */
    static List<String> nameless(Parent root) {
        List<String> nameless = new ArrayList<>();
        walk(root, node -> {
            boolean control = node instanceof ButtonBase
                    || node instanceof CheckBox
                    || node instanceof ComboBoxBase
                    || node instanceof TextInputControl
                    || node instanceof TableView
                    || node instanceof ListView
                    || node instanceof ProgressBar;
            // what a control is built of is read with it
            // what a control is built of is read with it; a box's list has the id JavaFX gives it
            boolean part = "list-view".equals(node.getId())
                    || node.getStyleClass().stream()
                            .anyMatch(style -> style.matches("(arrow|increment|decrement)-button"));
            if (control && !part && !named(node)) {
                nameless.add(node.getClass().getSimpleName() + " #" + node.getId());
            }
        });
        return nameless;
    }

    private static boolean named(Node node) {
        if (node.getAccessibleText() != null && !node.getAccessibleText().isBlank()) {
            return true;
        }
        return node instanceof Labeled labeled
                && labeled.getText() != null
                && !labeled.getText().isBlank();
    }

    /** Words that do not fit where they stand: shortened by dots, or reaching out of the window. */
    static List<String> cutOff(Parent root) {
        List<String> cut = new ArrayList<>();
        walk(root, node -> {
            boolean own = node instanceof Label label && !(label.getParent() instanceof javafx.scene.control.TableCell);
            boolean button = node instanceof ButtonBase;
            if ((own || button)
                    && node instanceof Labeled labeled
                    && !labeled.getText().isEmpty()) {
                labeled.lookupAll(".text").stream()
                        .filter(Text.class::isInstance)
                        .map(Text.class::cast)
                        .filter(text -> !text.getText().equals(labeled.getText())
                                && text.getText().endsWith("..."))
                        .forEach(text -> cut.add("\"" + labeled.getText() + "\" shows as \"" + text.getText() + "\""));
            }
        });
        return cut;
    }
}
