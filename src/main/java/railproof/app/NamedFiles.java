package railproof.app;

import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.List;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.profile.ProfileFile;
import railproof.rig.file.BuiltInFiles;
import railproof.rig.file.RigFile;

/** Rig and profile files as users name them: a path, or the name of one that comes with the program. */
public final class NamedFiles {
    private NamedFiles() {}

    /**
     * A rig file.
     *
     * @throws BadFileException if there is none, or it cannot be used
     */
    public static RigFile rig(String name) throws BadFileException {
        if (isFile(name)) {
            return RigFile.read(Path.of(name));
        }
        if (BuiltInFiles.rigNames().contains(name)) {
            return BuiltInFiles.rig(name);
        }
        throw missing(name, "rig", BuiltInFiles.rigNames());
    }

    /**
     * A profile file.
     *
     * @throws BadFileException if there is none, or it cannot be used
     */
    public static ProfileFile profile(String name) throws BadFileException {
        if (isFile(name)) {
            return ProfileFile.read(Path.of(name));
        }
        if (BuiltInFiles.profileNames().contains(name)) {
            return BuiltInFiles.profile(name);
        }
        throw missing(name, "profile", BuiltInFiles.profileNames());
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
