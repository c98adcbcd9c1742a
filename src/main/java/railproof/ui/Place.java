package railproof.ui;

import javafx.scene.input.KeyCode;

/** A part of the window, with the key that leads to it from everywhere. */
enum Place {
    TEST("Test", KeyCode.F2),
    BURN_IN("Burn-in", KeyCode.F3),
    HISTORY("History", KeyCode.F4),
    RIG("Rig", KeyCode.F5),
    FILES("Files", KeyCode.F7);

    private final String words;
    private final KeyCode key;

    Place(String words, KeyCode key) {
        this.words = words;
        this.key = key;
    }

    String words() {
        return words;
    }

    KeyCode key() {
        return key;
    }

    /** The id of its button. */
    String id() {
        return "go-" + name().toLowerCase(java.util.Locale.ROOT).replace('_', '-');
    }
}
