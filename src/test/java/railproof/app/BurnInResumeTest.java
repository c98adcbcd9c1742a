package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.Measured;
import railproof.record.BrokenOffRun;
import railproof.record.DyingWriter;
import railproof.record.RunFolder;
import railproof.report.CertificatePage;
import railproof.rig.Operator;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.Section;

/**
 * A burn-in killed at random instants and resumed: whatever was acknowledged is there exactly once. The kill is played
 * inside the process: the run is broken off at a random event, all that a dead process would not have written is taken
 * away, and half a line is left behind.
 */
class BurnInResumeTest {
    private static final String RAIL = "+5 V";

    private final Path data;

    BurnInResumeTest(@TempDir Path data) {
        this.data = data;
    }

    /** Runs until it is killed after that many events; what was acknowledged before goes to the list. */
    private Path runKilled(Optional<Path> resume, int afterEvents, List<RunEvent> acknowledged, Random random)
            throws Exception {
        BurnInRequest request = BurnInBench.request("BI-9", data, resume);
        PlainBench bench = new PlainBench();
        BurnInService service = new BurnInService(List.of(request), r -> BurnInBench.access(bench, r, link -> link));
        List<RunEvent> seen = new ArrayList<>();
        RunResult result = service.run(unit -> Operator.nobody(), (unit, event) -> {
                    seen.add(event);
                    if (seen.size() == afterEvents) {
                        service.control().stop(unit, "killed");
                    }
                })
                .get(0)
                .run()
                .orElseThrow();
        if (result.run().outcome().completed()) {
            acknowledged.addAll(seen);
            return result.folder();
        }
        // what a kill at that event would not have written
        for (String file : List.of("end.json", "verdict.json", "certificate.html", "wire-trace.txt")) {
            Files.deleteIfExists(result.folder().resolve(file));
        }
        seen.removeIf(RunEvent.RunEnded.class::isInstance);
        acknowledged.addAll(seen);
        DyingWriter.leaveHalfWritten(result.folder(), random);
        return result.folder();
    }

    private static List<Point> points(List<RunEvent> events) {
        return events.stream()
                .filter(RunEvent.PointTaken.class::isInstance)
                .map(event -> ((RunEvent.PointTaken) event).point())
                .toList();
    }

    /** Kills and resumes up to that often; says how often before the burn-in was done. */
    private int killedAndResumed(long seed, int kills) throws Exception {
        Random random = new Random(seed);
        System.getLogger("railproof.test").log(System.Logger.Level.INFO, "seed " + seed);
        List<RunEvent> acknowledged = new ArrayList<>();
        Optional<Path> folder = Optional.empty();
        int killed = 0;
        while (killed < kills) {
            folder = Optional.of(runKilled(folder, 4 + random.nextInt(12), acknowledged, random));
            if (Files.exists(folder.get().resolve("end.json"))) {
                break;
            }
            killed++;
            assertEquals(points(acknowledged), RunFolder.read(folder.get()).points(), "seed " + seed);
        }
        if (!Files.exists(folder.orElseThrow().resolve("end.json"))) {
            runKilled(folder, Integer.MAX_VALUE, acknowledged, random);
        }
        RunData run = RunFolder.read(folder.get());
        assertEquals(points(acknowledged), run.points(), "seed " + seed + ": no row lost, none twice");
        assertEquals(
                RunOutcome.End.COMPLETED, run.outcome().end(), run.outcome().cause());
        assertEquals(
                killed,
                run.events().stream().filter(RunEvent.Resumed.class::isInstance).count(),
                "seed " + seed);
        assertEquals(
                killed > 0,
                Files.readString(folder.get().resolve(CertificatePage.FILE))
                        .contains("taken up again after a break in the record"));
        double lastS = 0;
        double lastLoadedS = 0;
        for (Point point : run.points()) {
            assertTrue(point.elapsedS() >= lastS, "seed " + seed + ", point " + point.index());
            lastS = point.elapsedS();
            double loadedS = point.reading(Quantity.LOADED_TIME)
                    .measured()
                    .map(Measured::value)
                    .orElse(lastLoadedS);
            assertTrue(loadedS >= lastLoadedS, "seed " + seed + ", point " + point.index());
            lastLoadedS = loadedS;
        }
        assertTrue(lastLoadedS >= 360, "seed " + seed + ": loaded for " + lastLoadedS + " s");
        assertEquals(2, run.points(Section.BURN_IN_HOT, RAIL).size(), "one first and one last hot reading");
        assertFalse(Files.exists(folder.get().resolve("in-use.lock")));
        return killed;
    }

    @Test
    void killedAFewTimesAndResumedNoAcknowledgedRowIsLostAndNoneIsThereTwice() throws Exception {
        assertEquals(3, killedAndResumed(20261125, 3));
    }

    @Test
    @Tag("slow")
    void killedFiftyTimesAndResumedNoAcknowledgedRowIsLostAndNoneIsThereTwice() throws Exception {
        int killed = 0;
        for (long seed = 1; killed < 50; seed++) {
            Path own = Files.createDirectory(data.resolve("seed" + seed));
            killed += new BurnInResumeTest(own).killedAndResumed(seed, 5);
        }
    }

    @Test
    void onlyABrokenOffBurnInOfThisUnitIsResumed() throws Exception {
        List<RunEvent> acknowledged = new ArrayList<>();
        Path folder = runKilled(Optional.empty(), 14, acknowledged, new Random(3));
        BurnInService other = BurnInBench.service(List.of(BurnInBench.request("BI-10", data, Optional.of(folder))));
        assertRefused(other, "this run is of unit BI-9, not of BI-10");
        try (BrokenOffRun held = BrokenOffRun.hold(folder)) {
            assertEquals(points(acknowledged), held.run().points());
            assertRefused(service(folder), "this run is being written at this moment");
        }
        Files.writeString(folder.resolve("rig.toml"), PlainBench.RIG + "# changed\n");
        assertRefused(service(folder), "the file rig.toml was changed after the run");
        Files.writeString(folder.resolve("rig.toml"), PlainBench.RIG);
        BurnInResult finished = service(folder)
                .run(unit -> Operator.nobody(), (unit, event) -> {})
                .get(0);
        assertEquals(ExitStatus.PASSED, finished.status());
        assertRefused(service(folder), "this run has an end (completed)");
        assertRefused(service(data), "no run here");
    }

    private BurnInService service(Path folder) throws Exception {
        return BurnInBench.service(List.of(BurnInBench.request("BI-9", data, Optional.of(folder))));
    }

    private static void assertRefused(BurnInService service, String words) {
        BurnInResult result =
                service.run(unit -> Operator.nobody(), (unit, event) -> {}).get(0);
        assertEquals(ExitStatus.BAD_INPUT, result.status());
        String said = String.valueOf(result.trouble().orElseThrow().getMessage());
        assertTrue(said.contains(words), said);
    }
}
