package railproof.cli;

import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.List;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.profile.ProfileFile;
import railproof.record.RunFolder;
import railproof.rig.file.BuiltInFiles;
import railproof.rig.file.RigFile;

/** Finds what the user named: a file, or one of the files that come with the program. */
final class Inputs {
    private Inputs() {}

    static RigFile rig(String name) throws BadFileException {
        if (isFile(name)) {
            return RigFile.read(Path.of(name));
        }
        if (BuiltInFiles.rigNames().contains(name)) {
            return BuiltInFiles.rig(name);
        }
        throw missing(name, "rig", BuiltInFiles.rigNames());
    }

    static ProfileFile profile(String name) throws BadFileException {
        if (isFile(name)) {
            return ProfileFile.read(Path.of(name));
        }
        if (BuiltInFiles.profileNames().contains(name)) {
            return BuiltInFiles.profile(name);
        }
        throw missing(name, "profile", BuiltInFiles.profileNames());
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

    private static boolean isFile(String name) {
        try {
            return Files.isRegularFile(Path.of(name));
        } catch (InvalidPathException e) {
            return false;
        }
    }

    private static BadFileException missing(String name, String kind, List<String> builtIn) {
        return new BadFileException(List.of(new Problem(
                name,
                0,
                0,
                "",
                "no such file, and no " + kind + " of that name comes with the program; there are: "
                        + String.join(", ", builtIn))));
    }
}
