package railproof.ui;

import javafx.scene.Parent;

/** One screen of the window. Thread: JavaFX application thread. */
interface ScreenPane {
    /** What is shown. */
    Parent root();

    /** Puts the keyboard where the operator starts. */
    void focus();

    /** Once per display pulse while it is on the screen. */
    default void pulse() {
        // most screens change by events only
    }

    /** It came to the screen, for the first time or again. */
    default void entered() {
        // most screens are as they were left
    }

    /** Another screen takes its place. */
    default void left() {
        // most screens have nothing to put away
    }

    /** What it is about, for the header; empty if it is about no unit. */
    default String subject() {
        return "";
    }

    /** Whether what it shows is of no real unit. */
    default boolean simulated() {
        return false;
    }
}
