package railproof.seal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.BadFileException;
import railproof.run.Stage;
import railproof.seal.Verification.State;

/** Changes one byte at a time, everywhere: all are found, and nothing is when nothing was changed. */
class ByteFlipTest {
    private static final long SEED = 20261125;
    private static final int ALL_BYTES_UP_TO = 8192;
    private static final int PLACES_IN_LARGE_FILES = 400;

    @TempDir
    Path place = Path.of("");

    @Test
    void everyChangedByteIsFoundAndPointedAt() throws IOException, BadFileException {
        SealedRuns runs = new SealedRuns(place);
        runs.run("LC-2107", Stage.AS_FOUND, 0);
        Path folder = runs.run("LC-2107", Stage.AS_LEFT, 5);
        byte[] page = new byte[30_000];
        new Random(SEED).nextBytes(page);
        new Sealer(runs.keys)
                .seal(
                        folder,
                        SealedRuns.header(folder),
                        SealedRuns.DAY,
                        Map.of("certificate.pdf", page, "sign-off.json", "{}\n".getBytes(StandardCharsets.UTF_8)));
        Random random = new Random(SEED);
        Set<String> keys = runs.keys.known();
        int flips = 0;
        for (Map.Entry<String, Path> file : SealFiles.list(folder).entrySet()) {
            byte[] original = Files.readAllBytes(file.getValue());
            for (int at : places(original.length, random)) {
                byte[] changed = original.clone();
                changed[at] ^= (byte) (1 << random.nextInt(8));
                Files.write(file.getValue(), changed);
                Verification found = Verifier.run(folder, keys);
                String where = file.getKey() + " byte " + at + " seed " + SEED;
                assertEquals(State.CHANGED, found.state(), where);
                assertTrue(
                        found.findings().stream()
                                .anyMatch(finding -> finding.file().equals(file.getKey())),
                        where + " points at " + found.findings());
                flips++;
            }
            Files.write(file.getValue(), original);
            assertEquals(State.INTACT, Verifier.run(folder, keys).state());
        }
        System.out.println("byte flips, all found: " + flips + ", seed " + SEED);
        assertTrue(flips > 3000);
    }

    @Test
    void theBytesOfAStrayCertificateAreCheckedAgainstItsRun() throws IOException, BadFileException {
        SealedRuns runs = new SealedRuns(place);
        Path folder = runs.run("LC-2107", Stage.AS_LEFT, 0);
        byte[] page = ("%PDF-1.4 " + StrayFile.MARK + folder.getFileName() + " and so on\n")
                .getBytes(StandardCharsets.US_ASCII);
        new Sealer(runs.keys).seal(folder, SealedRuns.header(folder), SealedRuns.DAY, Map.of("certificate.pdf", page));
        Path sent = Files.createDirectories(place.resolve("mail")).resolve("for unit.pdf");
        Files.write(sent, page);

        assertEquals(State.INTACT, stray(runs, sent).state());

        for (int at = 0; at < page.length; at++) {
            byte[] changed = page.clone();
            changed[at] ^= 1;
            Files.write(sent, changed);
            State state = stray(runs, sent).state();
            assertTrue(state == State.CHANGED || state == State.UNSIGNED, "byte " + at + ": " + state);
        }
    }

    private static Verification stray(SealedRuns runs, Path file) throws IOException, BadFileException {
        return StrayFile.check(file, java.util.Optional.empty(), runs.data(), runs.keys.known());
    }

    private static Iterable<Integer> places(int length, Random random) {
        ArrayList<Integer> places = new ArrayList<>();
        if (length <= ALL_BYTES_UP_TO) {
            for (int at = 0; at < length; at++) {
                places.add(at);
            }
            return places;
        }
        places.add(0);
        places.add(length - 1);
        for (int i = 0; i < PLACES_IN_LARGE_FILES; i++) {
            places.add(random.nextInt(length));
        }
        return places;
    }
}
