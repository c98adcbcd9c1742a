package railproof.cli;

import java.nio.file.Path;
import java.util.Optional;
import railproof.app.ExitStatus;

/** Opens a window. The command line knows no more of windows than this. */
@FunctionalInterface
public interface WindowOpener {
    /**
     * Opens it, and returns when it is closed.
     *
     * @param rig rig file, or the name of one that comes with the program
     * @param dataDirectory where run folders are kept
     * @param operator who stands at the bench, empty if not said
     * @param file a rig or profile file to be edited first
     * @return the status of the last run in it
     */
    ExitStatus open(String rig, Path dataDirectory, String operator, Optional<Path> file) throws InterruptedException;
}
