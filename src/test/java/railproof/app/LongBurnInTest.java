package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.judge.Verdict;
import railproof.profile.ProfileFile;
import railproof.rig.Operator;
import railproof.rig.file.BuiltInFiles;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.Stage;
import railproof.sim.supply.SimulatedUnits;

/** Burn-ins of the simulated units, whole hours and a whole day of them, in virtual time. */
@Tag("slow")
class LongBurnInTest {
    private static final long MIB = 1024 * 1024;
    private static final int HOURS = 24;

    @TempDir(factory = NthExchangeTest.InMemory.class)
    private Path data = Path.of("");

    private RunRequest request(ProfileFile profile, String unit, Optional<String> fault) throws Exception {
        return new RunRequest(
                BuiltInFiles.rig("simulated-bench"), profile, unit, Stage.AS_LEFT, "", data, fault, false);
    }

    private static long usedBytes() {
        for (int i = 0; i < 3; i++) {
            System.gc();
        }
        Runtime runtime = Runtime.getRuntime();
        return runtime.totalMemory() - runtime.freeMemory();
    }

    @Test
    void eightUnitsForADayAllPassAndMemoryStaysFlat() throws Exception {
        List<BurnInRequest> requests = new ArrayList<>();
        for (String unit : SimulatedUnits.names()) {
            requests.add(new BurnInRequest(
                    request(BuiltInFiles.profile(unit), "DAY-" + unit, Optional.empty()),
                    Optional.of(Duration.ofHours(HOURS)),
                    Optional.empty()));
        }
        BurnInService service = new BurnInService(requests);
        AtomicLong early = new AtomicLong();
        AtomicLong late = new AtomicLong();

        List<BurnInResult> results = service.run(unit -> Operator.nobody(), (unit, event) -> {
            if (unit.equals("DAY-tape-85v") && event instanceof RunEvent.PointTaken) {
                double hours = event.elapsedS() / 3600;
                if (hours > 1 && early.get() == 0) {
                    early.set(usedBytes());
                } else if (hours > HOURS - 1 && late.get() == 0) {
                    late.set(usedBytes());
                }
            }
        });

        for (BurnInResult result : results) {
            RunData run = result.run().orElseThrow().run();
            assertEquals(
                    RunOutcome.End.COMPLETED,
                    run.outcome().end(),
                    result.unitSerial() + ": " + run.outcome().cause());
            // a ripple so small that its growth cannot be told within the limit passes conditionally, and may
            List<String> bad = result.run().orElseThrow().judgement().orElseThrow().checks().stream()
                    .filter(check -> check.verdict().compareTo(Verdict.CONDITIONAL_PASS) > 0)
                    .map(check -> check.rail() + " " + check.id() + ": " + check.detail())
                    .toList();
            assertEquals(List.of(), bad, result.unitSerial());
            // a row every 10 s
            assertTrue(
                    run.points().size() >= 360 * HOURS,
                    result.unitSerial() + ": " + run.points().size() + " rows");
        }
        // units that are done hand back their whole record, a few MiB each; growth by the row would be far more
        assertTrue(late.get() - early.get() < 200 * MIB, early.get() / MIB + " to " + late.get() / MIB + " MiB");
    }

    /** What the standard run passes, because it is over before it shows. */
    @ParameterizedTest
    @ValueSource(strings = {"drifting-reference", "cracked-joint"})
    void aFaultThatTakesTimeIsFoundWhereTheStandardRunPasses(String fault) throws Exception {
        RunRequest standard = request(BuiltInFiles.profile("counter-5v"), "STANDARD", Optional.of(fault));
        RunResult quick = new RunService(standard, Benches.open(standard)).run(Operator.nobody(), event -> {});
        assertEquals(ExitStatus.PASSED, quick.status(), quick.run().outcome().cause());

        String text = BuiltInFiles.profile("counter-5v").source().text();
        String plan = "[plan.burn_in]\nhours = 0.6\ncold_starts = 0\nhot_after_s = 300\ncool_s = 60\n";
        ProfileFile profile = ProfileFile.parse("counter-5v.toml", text.replace("[[rails]]", plan + "[[rails]]"));
        AtomicInteger warnings = new AtomicInteger();
        BurnInService service = new BurnInService(List.of(new BurnInRequest(
                request(profile, "BURNT-IN", Optional.of(fault)), Optional.empty(), Optional.empty())));
        RunResult burntIn = service.run(unit -> Operator.nobody(), (unit, event) -> {
                    if (event instanceof RunEvent.Note note && note.text().startsWith("early warning")) {
                        warnings.incrementAndGet();
                    }
                })
                .get(0)
                .run()
                .orElseThrow();
        assertTrue(
                warnings.get() > 0 || burntIn.status() == ExitStatus.UNIT_FAILED,
                fault + ": " + burntIn.status() + ", " + burntIn.run().outcome().cause());
        assertNotEquals(
                RunOutcome.End.FAULTED,
                burntIn.run().outcome().end(),
                burntIn.run().outcome().cause());
    }
}
