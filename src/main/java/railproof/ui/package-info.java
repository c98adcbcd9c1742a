/**
 * The operator's window. {@link railproof.ui.RunStory} turns the events of a run and glances at the bench into immutable
 * {@link railproof.ui.RunView}s, on the run's threads and without JavaFX; the panes paint the newest view once per
 * display pulse. Nothing here holds the run up: a window that fails or hangs leaves the run, its safe state and its
 * record alone.
 *
 * <p>Only this package sees JavaFX.
 */
@NullMarked
package railproof.ui;

import org.jspecify.annotations.NullMarked;
