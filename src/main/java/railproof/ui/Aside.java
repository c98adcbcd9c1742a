package railproof.ui;

import java.io.IOException;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.function.Consumer;
import javafx.application.Platform;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.record.RecordException;
import railproof.wire.LinkException;

/**
 * Work that reads disks and archives, on a thread of its own ({@code window-work}); what came of it arrives on the
 * window's thread.
 */
final class Aside {
    private Aside() {}

    /**
     * Begins.
     *
     * @param done told what came of it, on the window's thread
     * @param failed told in whole lines why nothing did, on the window's thread
     */
    static <T> void run(Callable<T> work, Consumer<T> done, Consumer<List<String>> failed) {
        Thread thread = new Thread(() -> work(work, done, failed), "window-work");
        thread.setDaemon(true);
        thread.start();
    }

    @SuppressWarnings("IllegalCatch") // whatever ends this thread has to be said in the window
    private static <T> void work(Callable<T> work, Consumer<T> done, Consumer<List<String>> failed) {
        try {
            T result = work.call();
            Platform.runLater(() -> done.accept(result));
        } catch (Exception | Error e) {
            List<String> lines = words(e);
            Platform.runLater(() -> failed.accept(lines));
        }
    }

    /** What went wrong, in words. */
    static List<String> words(Throwable trouble) {
        if (trouble instanceof BadFileException bad) {
            return bad.problems().stream().map(Problem::text).toList();
        }
        if (trouble instanceof LinkException) {
            return List.of("Rig: " + trouble.getMessage());
        }
        if (trouble instanceof RecordException) {
            return List.of("Record: " + trouble.getMessage());
        }
        if (trouble instanceof IOException) {
            return List.of(String.valueOf(trouble.getMessage()));
        }
        System.getLogger("railproof.ui").log(System.Logger.Level.DEBUG, "unexpected trouble", trouble);
        return List.of("This is a mistake in the program, please report it: " + trouble);
    }
}
