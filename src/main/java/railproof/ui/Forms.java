package railproof.ui;

import java.util.Collection;
import java.util.function.Function;
import javafx.beans.property.ReadOnlyStringWrapper;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.ScrollPane;
import javafx.scene.control.TableCell;
import javafx.scene.control.TableColumn;
import javafx.scene.control.TableView;
import javafx.scene.layout.GridPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Pane;
import javafx.scene.layout.Region;
import javafx.scene.text.Text;
import org.jspecify.annotations.Nullable;

/** Parts that many screens are made of. */
final class Forms {
    private static final double NARROW_PX = 70;

    private Forms() {}

    static Label title(String words) {
        return styled(words, "screen-title");
    }

    /** A heading inside a screen. */
    static Label heading(String words) {
        return styled(words, "stage-title");
    }

    /** Words that wrap and are never cut off. */
    static Label words(String words) {
        Label label = new Label(words);
        label.setWrapText(true);
        label.setMinHeight(Region.USE_PREF_SIZE);
        return label;
    }

    static Label hint(String words) {
        Label label = words(words);
        label.getStyleClass().add("hint");
        return label;
    }

    private static Label styled(String words, String style) {
        Label label = words(words);
        label.getStyleClass().add(style);
        return label;
    }

    /** Something wrong, so that it stands out. */
    static Label problem(String words) {
        return styled(words, "problem");
    }

    /** Shows problems instead of those shown before. */
    static void tell(Pane where, Collection<String> problems) {
        where.getChildren().setAll(problems.stream().map(Forms::problem).toList());
    }

    static HBox row(Node... nodes) {
        HBox row = new HBox(nodes);
        row.getStyleClass().add("row");
        return row;
    }

    static Button button(String id, String words, Runnable action) {
        Button button = new Button(words);
        button.setId(id);
        button.setMinWidth(Region.USE_PREF_SIZE);
        button.setOnAction(event -> action.run());
        return button;
    }

    /** The button that Enter presses. */
    static Button mainButton(String id, String words, Runnable action) {
        Button button = button(id, words, action);
        button.getStyleClass().add("main-button");
        button.setDefaultButton(true);
        return button;
    }

    static GridPane grid() {
        GridPane grid = new GridPane();
        grid.getStyleClass().add("form-grid");
        return grid;
    }

    /** A field with its label, as the grid's next row; a screen reader reads the label. */
    static void field(GridPane grid, String words, Node field) {
        Label label = new Label(words);
        label.setMinWidth(Region.USE_PREF_SIZE);
        label.setLabelFor(field);
        if (field.getAccessibleText() == null) {
            field.setAccessibleText(words);
        }
        grid.addRow(grid.getRowCount(), label, field);
    }

    static ScrollPane scroll(Node content) {
        ScrollPane scroll = new ScrollPane(content);
        scroll.setFitToWidth(true);
        scroll.getStyleClass().add("plain-scroll");
        scroll.setFocusTraversable(false);
        return scroll;
    }

    static <T> TableView<T> table(String id, String accessibleText) {
        TableView<T> table = new TableView<>();
        table.setId(id);
        table.setAccessibleText(accessibleText);
        table.setColumnResizePolicy(TableView.CONSTRAINED_RESIZE_POLICY_FLEX_LAST_COLUMN);
        Label nothing = new Label("nothing here");
        nothing.getStyleClass().add("hint");
        table.setPlaceholder(nothing);
        return table;
    }

    /** A column of words, as wide as that many letters against its neighbours. */
    static <T> void column(TableView<T> table, String name, double lettersPx, Function<T, String> text) {
        TableColumn<T, String> column = new TableColumn<>(name);
        column.setPrefWidth(lettersPx);
        // a narrow column holds one word, which must not be broken
        column.setMinWidth(Math.min(lettersPx, NARROW_PX));
        column.setSortable(false);
        column.setReorderable(false);
        column.setCellValueFactory(row -> new ReadOnlyStringWrapper(text.apply(row.getValue())));
        column.setCellFactory(of -> new WrappedCell<>());
        table.getColumns().add(column);
    }

    /** A cell whose words wrap: what was measured and what it is worth is never cut off. */
    private static final class WrappedCell<T> extends TableCell<T, String> {
        private static final double PADDING_PX = 10;

        private final Text words = new Text();

        WrappedCell() {
            words.getStyleClass().add("text");
            words.wrappingWidthProperty().bind(widthProperty().subtract(PADDING_PX));
        }

        @Override
        protected void updateItem(@Nullable String item, boolean empty) {
            super.updateItem(item, empty);
            words.setText(item == null || empty ? "" : item);
            setGraphic(item == null || empty ? null : words);
        }
    }

    /** Shows a node and gives it its room, or neither. */
    static void show(Node node, boolean shown) {
        node.setVisible(shown);
        node.setManaged(shown);
    }
}
