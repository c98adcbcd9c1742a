package railproof.ui;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import javafx.geometry.Bounds;
import javafx.scene.Node;
import javafx.scene.Parent;
import javafx.scene.control.ButtonBase;
import javafx.scene.control.CheckBox;
import javafx.scene.control.ComboBoxBase;
import javafx.scene.control.Labeled;
import javafx.scene.control.ListView;
import javafx.scene.control.ProgressBar;
import javafx.scene.control.ScrollPane;
import javafx.scene.control.TableView;
import javafx.scene.control.TextInputControl;
import javafx.scene.control.skin.VirtualFlow;
import javafx.scene.text.Text;
import javafx.scene.text.TextBoundsType;

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

    /** Words that do not fit where they stand: shortened by dots, out of the window, or over one another. */
    static List<String> cutOff(Parent root) {
        List<String> cut = new ArrayList<>();
        List<Text> fixed = new ArrayList<>();
        walk(root, node -> {
            if (node instanceof Labeled labeled && labeled.getText() != null) {
                labeled.lookupAll(".text").stream()
                        .filter(Text.class::isInstance)
                        .map(Text.class::cast)
                        .filter(text -> !text.getText().equals(labeled.getText())
                                && text.getText().endsWith("..."))
                        .forEach(text -> cut.add("\"" + labeled.getText() + "\" shows as \"" + text.getText() + "\""));
            } else if (node instanceof Text text && !text.getText().isBlank() && !rolls(text)) {
                fixed.add(text);
            }
        });
        Bounds window = root.getScene().getRoot().getLayoutBounds();
        for (int i = 0; i < fixed.size(); i++) {
            Bounds one = place(fixed.get(i));
            if (!window.contains(one)) {
                cut.add("\"" + fixed.get(i).getText() + "\" reaches out of the window: " + one);
            }
            for (int j = 0; j < i; j++) {
                Bounds other = place(fixed.get(j));
                double acrossPx = Math.min(one.getMaxX(), other.getMaxX()) - Math.max(one.getMinX(), other.getMinX());
                double downPx = Math.min(one.getMaxY(), other.getMaxY()) - Math.max(one.getMinY(), other.getMinY());
                // the line above and the line below a text may share the space between the lines
                if (acrossPx > 2 && downPx > 0.3 * Math.min(one.getHeight(), other.getHeight())) {
                    cut.add("\"" + fixed.get(i).getText() + "\" lies over \""
                            + fixed.get(j).getText() + "\"");
                }
            }
        }
        return cut;
    }

    private static Bounds place(Text text) {
        return text.localToScene(text.getBoundsInLocal());
    }

    /** Whether a text lies in something that is scrolled: what is out of sight there is not lost. */
    private static boolean rolls(Node node) {
        for (Node each = node.getParent(); each != null; each = each.getParent()) {
            if (each instanceof ScrollPane || each instanceof VirtualFlow || each instanceof TextInputControl) {
                return true;
            }
        }
        return false;
    }

    /** Height of the capital letters of a label, in parts of the window's height. */
    static double capitalsRatio(Parent root, String id) {
        Node node = root.lookup("#" + id);
        if (!(node instanceof Labeled labeled)) {
            throw new AssertionError("#" + id + " is no label");
        }
        Text capital = new Text("H");
        capital.setFont(labeled.getFont());
        capital.setBoundsType(TextBoundsType.VISUAL);
        return capital.getLayoutBounds().getHeight() / root.getScene().getHeight();
    }
}
