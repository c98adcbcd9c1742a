package railproof.ui;

import java.nio.file.Path;
import java.util.Optional;

/**
 * What the window starts with.
 *
 * @param rig rig file, or the name of a bench that comes with the program
 * @param dataDirectory where run folders are kept
 * @param operator who stands at the bench, empty if not said
 * @param file a rig or profile file to begin with in the editor
 */
public record WindowSettings(String rig, Path dataDirectory, String operator, Optional<Path> file) {}
