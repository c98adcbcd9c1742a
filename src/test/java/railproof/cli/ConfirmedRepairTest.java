package railproof.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.cli.PaperRuns.Said;
import railproof.judge.Verdict;
import railproof.profile.UnitPart;
import railproof.record.Repairs;
import railproof.run.Stage;

/** {@code diagnose --confirm} on a sealed run: kept under a new seal, counted, and refused on a run that was changed. */
final class ConfirmedRepairTest {
    private static final String TYPE = "counter-5v";

    @TempDir
    private Path place = Path.of("");

    private PaperRuns runs() {
        return new PaperRuns(place.resolve("data"));
    }

    private static String name(Path folder) {
        return String.valueOf(folder.getFileName());
    }

    @Test
    void aConfirmedPartIsSealedAndCountedAndMayBeCorrected() throws Exception {
        PaperRuns runs = runs();
        Path first = runs.sealed("LC-2107", Stage.AS_FOUND, Verdict.FAIL, 0);
        Path second = runs.sealed("LC-2108", Stage.AS_FOUND, Verdict.FAIL, 30);
        for (Path run : new Path[] {first, second}) {
            Said said = runs.inData("diagnose", name(run), "--confirm", "driver");
            assertEquals(0, said.status(), said.err());
            assertEquals(0, runs.inData("verify", name(run)).status());
        }
        assertEquals(Map.of(UnitPart.DRIVER, 2), Repairs.confirmed(runs.data, TYPE));

        assertEquals(
                0,
                runs.inData("diagnose", name(second), "--confirm", "pass-transistor")
                        .status());

        assertEquals(Map.of(UnitPart.DRIVER, 1, UnitPart.PASS_TRANSISTOR, 1), Repairs.confirmed(runs.data, TYPE));
        Said verified = runs.inData("verify", name(second));
        assertEquals(0, verified.status(), verified.out());
    }

    @Test
    void aRunChangedSinceItWasSealedKeepsNothing() throws Exception {
        PaperRuns runs = runs();
        Path run = runs.sealed("LC-2107", Stage.AS_FOUND, Verdict.FAIL, 0);
        Path points = run.resolve("points.csv");
        Files.writeString(points, Files.readString(points).replace("5.05", "5.06"));

        Said said = runs.inData("diagnose", name(run), "--confirm", "driver");

        assertEquals(2, said.status(), said.out() + said.err());
        assertTrue(said.err().contains("points.csv"), said.err());
        assertFalse(Files.exists(run.resolve(Repairs.FILE)));
    }

    @Test
    void anUnknownPartIsAnsweredWithThoseThereAre() throws Exception {
        PaperRuns runs = runs();
        Path run = runs.sealed("LC-2107", Stage.AS_FOUND, Verdict.FAIL, 0);

        Said said = runs.inData("diagnose", name(run), "--confirm", "flux-capacitor");

        assertEquals(2, said.status());
        assertTrue(said.err().contains("reservoir-capacitor"), said.err());
        assertFalse(Files.exists(run.resolve(Repairs.FILE)));
    }
}
