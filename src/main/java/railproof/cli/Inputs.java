package railproof.cli;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.List;
import railproof.app.NamedFiles;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.profile.ProfileFile;
import railproof.record.RunFolder;
import railproof.rig.file.RigFile;

/** Finds what the user named: a file, or one of the files that come with the program. */
final class Inputs {
    private Inputs() {}

    static RigFile rig(String name) throws BadFileException {
        return NamedFiles.rig(name);
    }

    static ProfileFile profile(String name) throws BadFileException {
        return NamedFiles.profile(name);
    }

    /** A run: its folder, or the name of its folder inside the data directory. */
    static Path run(String name, Path dataDirectory) throws BadFileException {
        try {
            for (Path candidate : List.of(Path.of(name), dataDirectory.resolve(name))) {
                if (RunFolder.isRun(candidate)) {
                    return candidate;
                }
            }
        } catch (InvalidPathException e) {
            throw new BadFileException(List.of(new Problem(name, 0, 0, "", "this cannot be a folder's name")));
        }
        throw new BadFileException(List.of(new Problem(
                name,
                0,
                0,
                "",
                "no run here, and none of that name in " + dataDirectory + " (a run is a folder with run.json)")));
    }

    /** A path the user gave. */
    static Path path(String name) throws BadFileException {
        try {
            return Path.of(name);
        } catch (InvalidPathException e) {
            throw new BadFileException(List.of(new Problem(name, 0, 0, "", "this cannot be a file's name")));
        }
    }
}
