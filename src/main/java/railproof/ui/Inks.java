package railproof.ui;

import javafx.scene.Node;
import javafx.scene.text.Font;

/** Colours and strokes of pictures that are painted pixel by pixel: the style sheet's {@code mark}, by day and by night. */
final class Inks {
    static final int LIGHT_MARK = 0xFF0B4F6C;
    static final int DARK_MARK = 0xFF8FD3F4;

    private static final double EM_PER_STROKE = 9;

    private Inks() {}

    /** How thick a painted stroke has to be beside letters of a font. */
    static int strokePx(Font beside) {
        return (int) Math.max(2, Math.round(beside.getSize() / EM_PER_STROKE));
    }

    /** The colour of curves where a node is. */
    static int mark(Node node) {
        boolean dark = node.getScene() != null
                && node.getScene().getRoot().getStyleClass().contains("dark");
        return dark ? DARK_MARK : LIGHT_MARK;
    }
}
