package railproof.diagnosis;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.record.DictionaryFile;

/** The cache of fault dictionaries: whatever is wrong with it, the dictionary is made again, never believed. */
final class DictionaryFileTest {
    @TempDir
    private Path data = Path.of("");

    private static final class MadeAgain extends RuntimeException {
        private static final long serialVersionUID = 1;
    }

    /** The folder of all dictionaries made so far, copied; its files. */
    private List<Path> kept() throws IOException {
        Bench12V.dictionary();
        Path to = Files.createDirectories(data.resolve("fault-dictionaries"));
        List<Path> copies = new ArrayList<>();
        try (Stream<Path> files = Files.list(Bench12V.DATA.resolve("fault-dictionaries"))) {
            for (Path from :
                    files.filter(file -> file.toString().endsWith(".bin")).toList()) {
                copies.add(Files.copy(from, to.resolve(from.getFileName())));
            }
        }
        return copies;
    }

    @Test
    void whatIsReadBackIsWhatWasMade() {
        Dictionary dictionary = Bench12V.dictionary();

        assertArrayEquals(
                dictionary.numbers(), Dictionary.of(dictionary.numbers()).numbers());
    }

    @Test
    void aDamagedFileIsMadeAgain() throws IOException {
        List<Path> files = kept();
        byte[] good = Files.readAllBytes(files.get(0));
        List<byte[]> damaged =
                List.of(new byte[0], Arrays.copyOf(good, good.length / 2), new byte[good.length], new byte[] {1, 2, 3});
        for (byte[] each : damaged) {
            for (Path file : files) {
                Files.write(file, each);
            }
            assertThrows(
                    MadeAgain.class,
                    () -> DictionaryFile.of(
                            data, Bench12V.loadedRail(), Bench12V.profile().line(), () -> {
                                throw new MadeAgain();
                            }));
        }
    }
}
