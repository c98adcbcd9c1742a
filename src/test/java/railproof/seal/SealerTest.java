package railproof.seal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.BadFileException;
import railproof.run.Stage;
import railproof.seal.Verification.Finding;
import railproof.seal.Verification.State;

class SealerTest {
    @TempDir
    Path place = Path.of("");

    @Test
    void aFreshSealIsIntactAndAnUnsealedRunUnsigned() throws IOException, BadFileException {
        SealedRuns runs = new SealedRuns(place);
        Path sealed = runs.run("LC-2107", Stage.AS_LEFT, 0);
        Path unsealed = runs.unsealed("LC-2108", Stage.AS_LEFT, 1);

        assertEquals(State.INTACT, runs.verify(sealed).state());
        assertEquals(State.UNSIGNED, runs.verify(unsealed).state());
    }

    @Test
    void missingAndAddedFilesAreNamed() throws IOException, BadFileException {
        SealedRuns runs = new SealedRuns(place);
        Path folder = runs.run("LC-2107", Stage.AS_LEFT, 0);

        Files.delete(folder.resolve("waveforms/0000.csv"));
        Files.writeString(folder.resolve("points (1).csv"), "");

        assertEquals(
                Set.of(
                        new Finding("waveforms/0000.csv", "is missing"),
                        new Finding("points (1).csv", "was added after the seal")),
                Set.copyOf(runs.verify(folder).findings()));
    }

    @Test
    void theRunsOfAUnitAreChained() throws IOException, BadFileException {
        SealedRuns runs = new SealedRuns(place);
        Path first = runs.run("LC-2107", Stage.AS_FOUND, 0);
        runs.run("LC 2107", Stage.AS_LEFT, 1);
        runs.run("LC-21", Stage.AS_LEFT, 2);
        Path second = runs.run("LC-2107", Stage.AS_LEFT, 3);

        Seal seal = runs.verify(second).seal().orElseThrow();
        assertEquals(
                String.valueOf(first.getFileName()), seal.before().orElseThrow().runId());

        // another run under the old one's name, sealed by the same bench
        Files.writeString(first.resolve("certificate.html"), "<p>better</p>");
        Files.delete(first.resolve("seal-1.txt"));
        new Sealer(runs.keys).seal(first, SealedRuns.header(first), SealedRuns.DAY, Map.of());
        assertEquals(State.INTACT, runs.verify(first).state());
        assertEquals(State.CHANGED, runs.verify(second).state());
    }

    @Test
    void aRunThatIsGoneIsMissedByTheNextOne() throws IOException, BadFileException {
        SealedRuns runs = new SealedRuns(place);
        Path first = runs.run("LC-2107", Stage.AS_FOUND, 0);
        Path second = runs.run("LC-2107", Stage.AS_LEFT, 1);
        Files.move(first, place.resolve("elsewhere"));

        Verification found = runs.verify(second);
        assertEquals(State.INTACT, found.state());
        assertEquals(List.of("the unit's run before, " + first.getFileName() + ", is not here"), found.notes());
    }

    @Test
    void aLaterSealCoversTheEarlierOne() throws IOException, BadFileException {
        SealedRuns runs = new SealedRuns(place);
        Path folder = runs.run("LC-2107", Stage.AS_LEFT, 0);
        add(runs, folder, "certificate.html", "<p>signed off</p>\n");
        assertEquals(2, runs.verify(folder).seal().orElseThrow().number());
        assertEquals(State.INTACT, runs.verify(folder).state());

        Files.delete(folder.resolve("seal-1.txt"));
        assertTrue(runs.verify(folder).findings().contains(new Finding("seal-1.txt", "is missing")));
    }

    @Test
    void theNewestSealCannotBeTakenAway() throws IOException, BadFileException {
        SealedRuns runs = new SealedRuns(place);
        Path folder = runs.run("LC-2107", Stage.AS_LEFT, 0);
        add(runs, folder, "sign-off.json", "{}\n");
        Files.delete(folder.resolve("seal-2.txt"));

        assertEquals(
                List.of(new Finding("sign-off.json", "was added after the seal")),
                runs.verify(folder).findings());
    }

    @Test
    void whatWasMeasuredIsNeverSealedAgainAfterAChange() throws IOException, BadFileException {
        SealedRuns runs = new SealedRuns(place);
        Path folder = runs.run("LC-2107", Stage.AS_LEFT, 0);
        Path points = folder.resolve("points.csv");
        Files.writeString(points, Files.readString(points).replace("5.012", "5.011"));

        BadFileException refused =
                assertThrows(BadFileException.class, () -> add(runs, folder, "sign-off.json", "{}\n"));
        String words = String.valueOf(refused.getMessage());
        assertTrue(words.contains("points.csv: was changed"), words);
        assertThrows(IllegalArgumentException.class, () -> {
            SealedRuns others = new SealedRuns(place.resolve("2"));
            add(others, others.run("LC-2108", Stage.AS_LEFT, 0), "points.csv", "x");
        });
    }

    @Test
    void aWriteCutOffBeforeItsSealCountsForNothing() throws IOException, BadFileException {
        SealedRuns runs = new SealedRuns(place);
        Path folder = runs.run("LC-2107", Stage.AS_LEFT, 0);
        Files.writeString(folder.resolve("sign-off.json.new"), "{}\n");
        Files.writeString(folder.resolve("certificate.pdf.new.part"), "%PDF");
        assertEquals(State.INTACT, runs.verify(folder).state());

        add(runs, folder, "certificate.html", "<p>again</p>\n");
        assertFalse(Files.exists(folder.resolve("sign-off.json.new")));
        assertEquals(State.INTACT, runs.verify(folder).state());
    }

    @Test
    void aWriteCutOffAfterItsSealCounts() throws IOException, BadFileException {
        SealedRuns runs = new SealedRuns(place);
        Path folder = runs.run("LC-2107", Stage.AS_LEFT, 0);
        byte[] before = Files.readAllBytes(folder.resolve("certificate.html"));
        add(runs, folder, "certificate.html", "<p>signed off</p>\n");
        // as it was between the seal and the renaming
        Files.move(folder.resolve("certificate.html"), folder.resolve("certificate.html.new"));
        Files.write(folder.resolve("certificate.html"), before);
        assertEquals(State.INTACT, runs.verify(folder).state());

        add(runs, folder, "sign-off.json", "{}\n");
        assertEquals("<p>signed off</p>\n", Files.readString(folder.resolve("certificate.html")));
        assertEquals(State.INTACT, runs.verify(folder).state());
    }

    @Test
    void anotherBenchsKeyIsKnownOnceItIsTrusted() throws IOException, BadFileException {
        SealedRuns theirs = new SealedRuns(place.resolve("theirs"));
        Path folder = theirs.run("LC-2107", Stage.AS_LEFT, 0);
        KeyFolder ours = new KeyFolder(place.resolve("ours"));
        ours.own();
        assertEquals(State.UNKNOWN_KEY, Verifier.run(folder, ours.known()).state());

        Path trusted = Files.createDirectories(ours.folder().resolve(KeyFolder.TRUSTED));
        Files.copy(theirs.keys.folder().resolve(KeyFolder.PUBLIC_FILE), trusted.resolve("bench-b.pem"));
        assertEquals(State.INTACT, Verifier.run(folder, ours.known()).state());
    }

    @Test
    @DisabledOnOs(OS.WINDOWS)
    void thePrivateKeyIsItsOwnersAlone() throws IOException, BadFileException {
        KeyFolder keys = new KeyFolder(place.resolve("deep/keys"));
        String publicHex = keys.own().publicHex();
        Path secret = keys.folder().resolve(KeyFolder.PRIVATE_FILE);
        assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(secret)));
        assertEquals("rwx------", PosixFilePermissions.toString(Files.getPosixFilePermissions(keys.folder())));
        assertEquals(publicHex, keys.own().publicHex());

        Files.setPosixFilePermissions(secret, PosixFilePermissions.fromString("rw-r--r--"));
        assertTrue(
                String.valueOf(assertThrows(BadFileException.class, keys::own).getMessage())
                        .contains("chmod 600"));
    }

    @Test
    void aLostPrivateKeyIsReplacedAndItsSealsStayKnown() throws IOException, BadFileException {
        SealedRuns runs = new SealedRuns(place);
        Path folder = runs.run("LC-2107", Stage.AS_LEFT, 0);
        Files.delete(runs.keys.folder().resolve(KeyFolder.PRIVATE_FILE));
        Path next = runs.run("LC-2108", Stage.AS_LEFT, 1);

        assertEquals(2, runs.keys.known().size());
        assertEquals(State.INTACT, runs.verify(folder).state());
        assertEquals(State.INTACT, runs.verify(next).state());
    }

    @Test
    void oddSerialsReadBack() {
        String odd = "a\nb\\u000a \uD83D\uDE00\u2028 ü";
        Seal seal = new Seal(
                1, "run", odd, SealedRuns.DAY, java.util.Optional.empty(), "0".repeat(64), List.of(), "1".repeat(64));
        byte[] whole = SealText.whole(SealText.signed(seal), new byte[64]);
        assertEquals(seal, SealText.read(whole).orElseThrow().seal());
    }

    /** RFC 8032, section 7.1, TEST 2 and TEST 3. */
    @Test
    void signaturesAreThoseOfRfc8032() {
        byte[] message = {0x72};
        String key = "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c";
        byte[] signature = java.util.HexFormat.of()
                .parseHex("92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da"
                        + "085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00");
        assertTrue(Ed25519.verified(key, message, signature));
        assertFalse(Ed25519.verified(key, new byte[] {0x73}, signature));
    }

    private static void add(SealedRuns runs, Path folder, String name, String text)
            throws IOException, BadFileException {
        byte[] content = text.getBytes(StandardCharsets.UTF_8);
        new Sealer(runs.keys)
                .seal(folder, SealedRuns.header(folder), SealedRuns.DAY.plusSeconds(900), Map.of(name, content));
    }
}
