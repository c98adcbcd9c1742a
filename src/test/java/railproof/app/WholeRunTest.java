package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.Measured;
import railproof.judge.Check;
import railproof.judge.Verdict;
import railproof.report.VerdictTable;
import railproof.run.SafeState;

/** One run from first contact to verdict, against a unit that can be calculated by hand. */
class WholeRunTest {
    @TempDir
    @SuppressWarnings("NullAway.Init")
    private Path data;

    private final PlainBench bench;

    WholeRunTest() throws Exception {
        bench = new PlainBench();
    }

    @Test
    void aGoodUnitPassesAndEverythingIsOffAfterwards() throws Exception {
        RunResult result = bench.run(data, UnaryOperator.identity());

        assertEquals(
                ExitStatus.PASSED,
                result.status(),
                () -> VerdictTable.text(result.run(), result.judgement().orElseThrow()));
        assertEquals(SafeState.CONFIRMED, result.run().outcome().safeState());
        assertEquals(0, bench.sightLater().loadCurrentA());
        assertFalse(bench.sightLater().lineLive());
        for (String file : List.of("run.json", "points.csv", "verdict.json", "certificate.html", "end.json")) {
            assertTrue(Files.size(result.folder().resolve(file)) > 0, file);
        }
    }

    @Test
    void theFiguresAreThoseCalculatedByHand() throws Exception {
        RunResult result = bench.run(data, UnaryOperator.identity());

        // output 5.02 V less 5 mΩ · 2 A; regulation 10 mV of 5.01 V
        Check load = check(result, "load-regulation");
        assertEquals(0.010 / 5.010, value(load), load.expandedU());
        Check knee = check(result, "current-limit");
        assertEquals(2.55, value(knee), knee.expandedU());
    }

    @Test
    void theSameSeedGivesTheSamePointsByteForByte() throws Exception {
        byte[] first = Files.readAllBytes(
                bench.run(data, UnaryOperator.identity()).folder().resolve("points.csv"));
        byte[] second = Files.readAllBytes(
                new PlainBench().run(data, UnaryOperator.identity()).folder().resolve("points.csv"));

        assertEquals(new String(first, StandardCharsets.UTF_8), new String(second, StandardCharsets.UTF_8));
    }

    @Test
    void nothingIsJudgedAsPassedThatWasNotMeasured() throws Exception {
        RunService service = bench.service(data, UnaryOperator.identity());
        service.stop("stopped before it began");

        RunResult result = service.run(railproof.rig.Operator.nobody(), event -> {});

        assertEquals(ExitStatus.RIG_TROUBLE, result.status());
        assertTrue(result.judgement().orElseThrow().checks().stream().allMatch(c -> c.verdict() == Verdict.NOT_JUDGED));
    }

    private static Check check(RunResult result, String id) {
        return result.judgement().orElseThrow().checks().stream()
                .filter(c -> c.id().equals(id))
                .findFirst()
                .orElseThrow();
    }

    private static double value(Check check) {
        return check.value().measured().map(Measured::value).orElseThrow();
    }
}
