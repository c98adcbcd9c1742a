package railproof.ui;

import javafx.scene.Parent;

/** One screen of the window. Thread: JavaFX application thread. */
interface ScreenPane {
    /** What is shown. */
    Parent root();

    /** Puts the keyboard where the operator starts. */
    void focus();

    /** Paints the newest view of the run, at most once per display pulse. */
    default void show(RunView view) {
        // most screens do not follow a run
    }
}
