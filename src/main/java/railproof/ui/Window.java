package railproof.ui;

import railproof.app.Archiving;
import railproof.app.BenchAccess;
import railproof.app.RunRequest;
import railproof.base.BadFileException;

/** What screens may ask of the window around them. Thread: JavaFX application thread, but for {@link #archiving}. */
interface Window {
    WindowSettings settings();

    /** The archive that belongs to the window's data directory. Thread: any. */
    Archiving archiving() throws BadFileException;

    /** Where a request's instruments are. */
    BenchAccess bench(RunRequest request) throws BadFileException;

    /** Puts a screen into a place, and shows it if that place is on the screen. */
    void put(Place place, ScreenPane screen);

    /** Shows a place. */
    void go(Place place);

    /**
     * Takes the instruments for a work.
     *
     * @param whenOver told on the window's thread once it is over and the instruments are free again
     * @return why it cannot have them now; empty if it has
     */
    String take(BenchWork work, Runnable whenOver);

    /** Raises an alarm: heard and seen from every screen until somebody says they have seen it. */
    void alarm(String words);
}
