package railproof.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.cli.PaperRuns.Said;
import railproof.judge.Verdict;
import railproof.run.Stage;

/** The commands over finished runs, from the command line to the files. */
class RecordCommandsTest {
    @TempDir
    Path place = Path.of("");

    private PaperRuns runs = new PaperRuns(Path.of(""));

    @BeforeEach
    void newData() {
        runs = new PaperRuns(place.resolve("data"));
    }

    @Test
    void aRunIsSignedOffPrintedSealedAndArchived() throws Exception {
        Path found = runs.sealed("LC-2107", Stage.AS_FOUND, Verdict.FAIL, 0);
        Path left = runs.sealed("LC-2107", Stage.AS_LEFT, Verdict.PASS, 30);

        Said said = runs.inData(
                "sign-off", name(left), "--operator", "m. k.", "--checked", "earth bond", "--before", name(found));
        assertEquals(0, said.status(), said.out() + said.err());
        for (String file : new String[] {"certificate.pdf", "certificate.html", "certificate.csv", "sign-off.json"}) {
            assertTrue(Files.exists(left.resolve(file)), file);
        }
        String page = Files.readString(left.resolve("certificate.html"));
        assertTrue(page.contains("<h1>Certificate of test</h1>") && page.contains("earth bond"));
        assertTrue(page.contains("as found"), "the curve before the repair is drawn and named");

        Said verified = runs.inData("verify", name(left));
        assertEquals(0, verified.status(), verified.out());
        assertTrue(verified.out().contains("intact") && verified.out().contains("seal 2"), verified.out());
        Path sent = Files.copy(left.resolve("certificate.pdf"), place.resolve("for the customer.pdf"));
        assertEquals(0, runs.inData("verify", sent.toString()).status());
        byte[] bytes = Files.readAllBytes(sent);
        bytes[bytes.length / 2] ^= 4;
        Files.write(sent, bytes);
        assertEquals(1, runs.inData("verify", sent.toString()).status());

        Said history = runs.inData("history", "--unit", "LC-2107", "--verdict", "pass");
        assertTrue(history.out().contains("m. k. 20") && history.out().contains("1 run."), history.out());

        Said again = runs.inData("sign-off", name(left), "--operator", "n. o.", "--checked", "x");
        assertEquals(4, again.status());
        assertTrue(again.out().contains("signed off already, by m. k."), again.out());
    }

    @Test
    void aRefusedSignOffChangesNothing() throws Exception {
        Path failed = runs.sealed("LC-2107", Stage.AS_LEFT, Verdict.FAIL, 0);
        String seal = Files.readString(failed.resolve("seal-1.txt"));
        Said said = runs.inData("sign-off", name(failed), "--operator", "m. k.", "--checked", "earth bond");
        assertEquals(4, said.status());
        assertTrue(said.out().contains("the unit failed: +5 V Ripple"), said.out());
        assertFalse(Files.exists(failed.resolve("sign-off.json")));
        assertEquals(seal, Files.readString(failed.resolve("seal-1.txt")));

        Path points = failed.resolve("points.csv");
        Files.writeString(points, Files.readString(points).replace("5.05", "5.06"));
        Said changed = runs.inData("sign-off", name(failed), "--operator", "m. k.", "--checked", "earth bond");
        assertTrue(changed.out().contains("changed since it was sealed: points.csv"), changed.out());
    }

    @Test
    void aRunWithoutItsArchiveIsCaughtUp() throws Exception {
        Path left = runs.sealed("LC-2107", Stage.AS_LEFT, Verdict.PASS, 0);
        String nowhere = "jdbc:postgresql://127.0.0.1:1/shop?user=bench";
        Said said = runs.inData(
                "sign-off", name(left), "--operator", "m. k.", "--checked", "earth bond", "--archive", nowhere);
        assertEquals(0, said.status());
        assertTrue(said.err().contains("the next command that reaches it catches up"), said.err());
        assertTrue(Files.exists(runs.data.resolve("not-archived").resolve(name(left))));
        assertEquals(3, runs.inData("history", "--archive", nowhere).status());

        assertTrue(runs.inData("history").out().contains("m. k. 20"));
        assertFalse(Files.exists(runs.data.resolve("not-archived").resolve(name(left))));
    }

    @Test
    void theArchiveIsMadeNewFromTheFolders() throws Exception {
        for (int i = 0; i < 6; i++) {
            runs.sealed("LC-" + i, i % 2 == 0 ? Stage.AS_LEFT : Stage.AS_FOUND, Verdict.PASS, i);
        }
        String before = runs.inData("history", "--csv").out();
        assertEquals(7, before.lines().count());

        Files.writeString(
                runs.data.resolve("archive.sqlite"), "this is no database any more, by some accident of a disk");
        Files.deleteIfExists(runs.data.resolve("archive.sqlite-wal"));
        Files.deleteIfExists(runs.data.resolve("archive.sqlite-shm"));
        Said broken = runs.inData("history");
        assertEquals(3, broken.status());
        assertTrue(broken.err().contains("--rebuild"), broken.err());
        assertEquals(0, runs.inData("archive", "--rebuild").status());
        assertEquals(before, runs.inData("history", "--csv").out());
    }

    @Test
    void statisticsAreOfRealUnitsInThreeForms() throws Exception {
        runs.sealed("=1+1", Stage.AS_FOUND, Verdict.FAIL, 0);
        runs.sealed("=1+1", Stage.AS_LEFT, Verdict.PASS, 1);
        runs.sealed("LC-2", Stage.AS_LEFT, Verdict.FAIL, 2);
        String text = runs.inData("history", "--statistics").out();
        assertTrue(text.contains("First-pass yield: 50.0 % (1 of 2 units"), text);
        assertTrue(text.contains("1 / 1  +5 V Ripple, peak to peak"), text);
        assertTrue(text.contains("Ppk: too few units"), text);
        assertTrue(text.lines().allMatch(line -> line.length() <= 100));
        String csv = runs.inData("history", "--statistics", "--csv").out();
        assertEquals(2, csv.lines().count());
        assertTrue(runs.inData("history", "--statistics", "--json").out().contains("\"share\" : 0.5"));
        assertTrue(runs.inData("history", "--csv").out().contains(",'=1+1,"), "a spreadsheet must not calculate it");
        assertTrue(runs.inData("history", "--json").out().contains("\"=1+1\""));
    }

    @Test
    void everyProblemOfTheCommandLineIsSaidAtOnce() {
        Said said = runs.inData("history", "--verdict", "good", "--stage", "x", "--from", "tomorrow", "--most", "0");
        assertEquals(2, said.status());
        assertTrue(said.err().contains("4 problems."), said.err());
    }

    @Test
    void theOverlayPageNamesWhatWasMended() throws Exception {
        Path found = runs.sealed("LC-2107", Stage.AS_FOUND, Verdict.FAIL, 0);
        Path left = runs.sealed("LC-2107", Stage.AS_LEFT, Verdict.PASS, 30);
        Path page = place.resolve("page.html");
        Said said = runs.inData("compare", name(found), name(left), "--page", page.toString());
        assertTrue(said.out().contains("From fail to pass: +5 V Load regulation"), said.out() + said.err());
        assertTrue(Files.readString(page).contains("class=\"before\""));
        assertTrue(
                runs.inData("compare", name(found), name(left), "--json").out().contains("\"fail_to_pass\" : true"));
    }

    @Test
    void whatIsAddedLaterIsSealedToo() throws Exception {
        Path run = runs.sealed("LC-2107", Stage.AS_LEFT, Verdict.PASS, 0);
        assertTrue(runs.inData("judge", name(run)).err().isEmpty());
        assertEquals(
                0,
                runs.inData("diagnose", name(run), "--confirm", "reservoir-capacitor")
                        .status());
        Said verified = runs.inData("verify", name(run));
        assertEquals(0, verified.status(), verified.out());
        assertTrue(verified.out().contains("seal 3"), verified.out());

        Files.writeString(run.resolve("repair.json"), "{}");
        assertEquals(1, runs.inData("verify", name(run)).status());
        Said judged = runs.inData("judge", name(run), "--profile", "check-fixed-5v");
        assertTrue(judged.err().contains("not kept beside the run"), judged.err());
    }

    private static String name(Path folder) {
        return String.valueOf(folder.getFileName());
    }
}
