package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.Measured;
import railproof.judge.Check;
import railproof.judge.Verdict;
import railproof.report.CertificatePage;
import railproof.rig.Operator;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Section;
import railproof.sim.FaultyLink;
import railproof.sim.LinkEffect;

/** Burn-in of the plain unit, from command to certificate. */
class BurnInTest {
    private static final String RAIL = "+5 V";

    private final Path data;

    BurnInTest(@TempDir Path data) {
        this.data = data;
    }

    private static double loadedS(Point point) {
        return point.reading(Quantity.LOADED_TIME)
                .measured()
                .map(Measured::value)
                .orElse(-1.0);
    }

    @Test
    void aGoodUnitPassesWithEveryCheckAnswered() throws Exception {
        BurnInService service = BurnInBench.service(List.of(BurnInBench.request("BI-1", data, Optional.empty())));

        RunResult result = service.run(unit -> Operator.nobody(), (unit, event) -> {})
                .get(0)
                .run()
                .orElseThrow();

        RunData run = result.run();
        assertEquals(
                RunOutcome.End.COMPLETED, run.outcome().end(), run.outcome().cause());
        assertEquals(SafeState.CONFIRMED, run.outcome().safeState());
        List<Check> checks = result.judgement().orElseThrow().checks();
        assertTrue(checks.stream().allMatch(check -> check.verdict() == Verdict.PASS), () -> String.valueOf(checks));
        assertEquals(
                List.of(
                        "no-load-voltage",
                        "burn-in-output",
                        "burn-in-ripple-pp",
                        "burn-in-drift",
                        "burn-in-ripple-growth",
                        "burn-in-cooled",
                        "burn-in-hours",
                        "envelope"),
                checks.stream().map(Check::id).toList());
        assertEquals(ExitStatus.PASSED, result.status());
        // first contact, two cold starts
        assertEquals(3, run.points(Section.NO_LOAD, RAIL).size());
        assertEquals(2, run.points(Section.BURN_IN_HOT, RAIL).size());
        assertEquals(1, run.points(Section.BURN_IN_COOLED, RAIL).size());
        List<Point> rows = run.points(Section.BURN_IN, RAIL);
        // a row every 10 s of 360 s under load, full readings at start, each minute and after each cold start
        assertTrue(rows.size() >= 36 && rows.size() <= 36 + 6 + 1 + 2 + 6, "rows: " + rows.size());
        for (int i = 1; i < rows.size(); i++) {
            assertTrue(loadedS(rows.get(i)) >= loadedS(rows.get(i - 1)));
            assertTrue(rows.get(i).elapsedS() > rows.get(i - 1).elapsedS());
        }
        assertTrue(loadedS(rows.get(rows.size() - 1)) < 361);
        String page = Files.readString(result.folder().resolve(CertificatePage.FILE));
        assertTrue(page.contains("Course of the burn-in"), page);
        assertTrue(page.contains("cold start 2 of 2: line off"), page);
        // output and ripple over the hours, each with its two cold starts; this bench has no sensor on the heat sink;
        // and the code that holds the record's digest
        assertEquals(2 + 1, occurrences(page, "<svg"));
        assertEquals(2 * 2, occurrences(page, "class=\"break\""));
        assertTrue(page.contains("time under load / h"), page);
        assertFalse(page.contains("Output over load"), "no sweep was asked for");
    }

    private static int occurrences(String text, String part) {
        return text.split(Pattern.quote(part), -1).length - 1;
    }

    @Test
    void aPausedUnitHasLoadAndLineOffAndItsTimeStandsStill() throws Exception {
        PlainBench bench = new PlainBench();
        BurnInService service = new BurnInService(
                List.of(BurnInBench.request("BI-2", data, Optional.empty())),
                request -> BurnInBench.access(bench, request, link -> link));
        List<Double> currents = Collections.synchronizedList(new ArrayList<>());
        AtomicInteger rows = new AtomicInteger();
        AtomicLong pausedNs = new AtomicLong();

        RunResult result = service.run(unit -> Operator.nobody(), (unit, event) -> {
                    if (event instanceof RunEvent.PointTaken taken
                            && taken.point().section() == Section.BURN_IN
                            && rows.incrementAndGet() == 10) {
                        assertTrue(service.control().pause("BI-2"));
                    }
                    if (event instanceof RunEvent.Note note && note.text().startsWith("paused")) {
                        pausedNs.set(bench.clock.nowNs());
                        new Thread(() -> {
                                    // the bench's clock runs on by itself while the unit stands still
                                    while (bench.clock.nowNs() < pausedNs.get() + 100_000_000_000L) {
                                        Thread.onSpinWait();
                                    }
                                    currents.add(bench.bench.sight().loadCurrentA());
                                    assertFalse(bench.bench.sight().lineLive());
                                    service.control().goOn("BI-2");
                                })
                                .start();
                    }
                })
                .get(0)
                .run()
                .orElseThrow();

        assertEquals(List.of(0.0), currents);
        RunData run = result.run();
        assertEquals(ExitStatus.PASSED, result.status(), run.outcome().cause());
        RunEvent continued = run.events().stream()
                .filter(event ->
                        event instanceof RunEvent.Note note && note.text().startsWith("continued after a pause"))
                .findFirst()
                .orElseThrow();
        List<Point> rowsTaken = run.points(Section.BURN_IN, RAIL);
        Point before = rowsTaken.stream()
                .filter(point -> point.elapsedS() < continued.elapsedS())
                .reduce((a, b) -> b)
                .orElseThrow();
        Point after = rowsTaken.stream()
                .filter(point -> point.elapsedS() > continued.elapsedS())
                .findFirst()
                .orElseThrow();
        assertTrue(after.elapsedS() - before.elapsedS() >= 100);
        // no more than settling after the start and the rest of one row's interval
        assertTrue(loadedS(after) - loadedS(before) < 10, loadedS(before) + " to " + loadedS(after));
        assertFalse(service.control().pause("BI-2"), "over is over");
    }

    @Test
    void oneUnitWhoseLinkIsPulledLeavesTheOthersRunningToTheirEnd() throws Exception {
        Map<String, PlainBench> benches =
                Map.of("BI-3", new PlainBench(), "BI-4", new PlainBench(), "BI-5", new PlainBench());
        PlainBench pulledBench = Objects.requireNonNull(benches.get("BI-4"));
        AtomicLong exchanges = new AtomicLong();
        BurnInService service = new BurnInService(
                List.of(
                        BurnInBench.request("BI-3", data, Optional.empty()),
                        BurnInBench.request("BI-4", data, Optional.empty()),
                        BurnInBench.request("BI-5", data, Optional.empty())),
                request -> BurnInBench.access(
                        Objects.requireNonNull(benches.get(request.unitSerial())),
                        request,
                        link -> request.unitSerial().equals("BI-4")
                                ? new FaultyLink(
                                        link,
                                        n -> exchanges.incrementAndGet() > 2000
                                                ? new LinkEffect.Gone()
                                                : new LinkEffect.None())
                                : link));

        List<BurnInResult> results = service.run(unit -> Operator.nobody(), (unit, event) -> {});

        assertEquals(ExitStatus.PASSED, results.get(0).status());
        assertEquals(ExitStatus.NOT_SAFE, results.get(1).status(), "nothing answered any more");
        assertEquals(ExitStatus.PASSED, results.get(2).status());
        RunOutcome pulled = results.get(1).run().orElseThrow().run().outcome();
        assertEquals(RunOutcome.End.FAULTED, pulled.end());
        assertEquals(0, pulledBench.sightLater().loadCurrentA());
        assertEquals(ExitStatus.NOT_SAFE, BurnInService.worst(results));
    }

    @Test
    void aStoppedUnitIsMadeSafeAndIsNotHeldAgainstTheUnit() throws Exception {
        BurnInService service = BurnInBench.service(List.of(
                BurnInBench.request("BI-6", data, Optional.empty()),
                BurnInBench.request("BI-7", data, Optional.empty())));
        AtomicInteger rows = new AtomicInteger();

        List<BurnInResult> results = service.run(unit -> Operator.nobody(), (unit, event) -> {
            if (unit.equals("BI-6") && event instanceof RunEvent.PointTaken && rows.incrementAndGet() == 12) {
                service.control().stop("BI-6", "stopped by the operator");
            }
        });

        RunData stopped = results.get(0).run().orElseThrow().run();
        assertEquals(RunOutcome.End.STOPPED, stopped.outcome().end());
        assertEquals(SafeState.CONFIRMED, stopped.outcome().safeState());
        assertEquals(ExitStatus.RIG_TROUBLE, results.get(0).status());
        assertEquals(ExitStatus.PASSED, results.get(1).status());
        Check hours = results.get(0).run().orElseThrow().judgement().orElseThrow().checks().stream()
                .filter(check -> check.id().equals("burn-in-hours"))
                .findFirst()
                .orElseThrow();
        assertEquals(Verdict.NOT_JUDGED, hours.verdict());
    }
}
