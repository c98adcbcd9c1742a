package railproof.rig.file;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.List;
import railproof.base.BadFileException;
import railproof.profile.ProfileFile;
import railproof.toml.NearestName;
import railproof.toml.TextFile;

/**
 * The benches and profiles that travel inside the program. They are the files of the project's {@code rigs} folder;
 * {@code rigs/index.txt} lists them, because a folder inside a jar cannot be listed.
 *
 * <p>Thread: stateless; any thread.
 */
public final class BuiltInFiles {
    private static final String FOLDER = "/railproof/rigs/";
    private static final String PROFILES = "profiles/";
    private static final String SUFFIX = ".toml";

    private BuiltInFiles() {}

    /** Names of the benches, sorted. */
    public static List<String> rigNames() {
        return index().stream()
                .filter(entry -> !entry.startsWith(PROFILES))
                .map(BuiltInFiles::bare)
                .toList();
    }

    /** Names of the profiles, sorted. */
    public static List<String> profileNames() {
        return index().stream()
                .filter(entry -> entry.startsWith(PROFILES))
                .map(entry -> bare(entry.substring(PROFILES.length())))
                .toList();
    }

    /**
     * A built-in bench.
     *
     * @throws IllegalArgumentException if there is none of that name; the message names the nearest
     */
    public static RigFile rig(String name) {
        require(name, rigNames(), "bench");
        try {
            return RigFile.parse("built in: " + name, text(name + SUFFIX));
        } catch (BadFileException e) {
            throw new IllegalStateException("built-in bench " + name + " is broken: " + e.getMessage(), e);
        }
    }

    /**
     * A built-in profile.
     *
     * @throws IllegalArgumentException if there is none of that name; the message names the nearest
     */
    public static ProfileFile profile(String name) {
        require(name, profileNames(), "profile");
        try {
            return ProfileFile.parse("built in: " + name, text(PROFILES + name + SUFFIX));
        } catch (BadFileException e) {
            throw new IllegalStateException("built-in profile " + name + " is broken: " + e.getMessage(), e);
        }
    }

    /** Paths of all built-in files under the folder, sorted. */
    static List<String> index() {
        return text("index.txt")
                .lines()
                .filter(line -> !line.isBlank())
                .sorted()
                .toList();
    }

    private static void require(String name, List<String> names, String what) {
        if (!names.contains(name)) {
            String hint = NearestName.of(name, names)
                    .map(near -> "did you mean " + near + "?")
                    .orElse("there are " + String.join(", ", names));
            throw new IllegalArgumentException("no built-in " + what + " " + name + "; " + hint);
        }
    }

    private static String bare(String fileName) {
        return fileName.substring(0, fileName.length() - SUFFIX.length());
    }

    private static String text(String path) {
        try (InputStream in = BuiltInFiles.class.getResourceAsStream(FOLDER + path)) {
            if (in == null) {
                throw new IllegalStateException("the program was packed without " + FOLDER + path);
            }
            return TextFile.decode(path, in.readAllBytes());
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read " + FOLDER + path, e);
        } catch (BadFileException e) {
            throw new IllegalStateException("packed file is not text: " + e.getMessage(), e);
        }
    }
}
