package railproof.rig.file;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import railproof.profile.ProfileFile;

class BuiltInFilesTest {
    private static final Path FOLDER = Path.of("rigs");

    @Test
    void indexListsExactlyTheFilesOfTheFolder() throws IOException {
        List<String> inFolder;
        try (Stream<Path> files = Files.walk(FOLDER)) {
            inFolder = files.map(file -> FOLDER.relativize(file).toString().replace('\\', '/'))
                    .filter(name -> name.endsWith(".toml"))
                    .sorted()
                    .toList();
        }

        assertEquals(inFolder, BuiltInFiles.index());
        assertTrue(inFolder.size() > 1);
    }

    @ParameterizedTest
    @MethodSource("railproof.rig.file.BuiltInFiles#rigNames")
    void everyShippedBenchCanBeReadAndBearsItsFileName(String name) {
        RigFile rig = BuiltInFiles.rig(name);

        assertEquals(name, rig.config().name());
        assertEquals("built in: " + name, rig.source().name());
    }

    @ParameterizedTest
    @MethodSource("railproof.rig.file.BuiltInFiles#profileNames")
    void everyShippedProfileCanBeReadAndBearsItsFileName(String name) throws IOException {
        ProfileFile profile = BuiltInFiles.profile(name);

        assertEquals(name, profile.profile().id());
        assertEquals(
                Files.readString(FOLDER.resolve("profiles/" + name + ".toml")),
                profile.source().text());
    }

    @Test
    void namesTheNearestWhenABenchOrProfileIsNotThere() {
        assertEquals(
                "no built-in bench simulated-bensh; did you mean simulated-bench?",
                assertThrows(IllegalArgumentException.class, () -> BuiltInFiles.rig("simulated-bensh"))
                        .getMessage());
        assertEquals(
                "no built-in profile counter-5; did you mean counter-5v?",
                assertThrows(IllegalArgumentException.class, () -> BuiltInFiles.profile("counter-5"))
                        .getMessage());
    }
}
