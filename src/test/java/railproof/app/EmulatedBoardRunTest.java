package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.Measured;
import railproof.judge.Check;
import railproof.profile.ProfileFile;
import railproof.rig.Operator;
import railproof.rig.file.BuiltInFiles;
import railproof.rig.file.RigFile;
import railproof.run.Point;
import railproof.run.SafeState;
import railproof.run.Section;
import railproof.run.Stage;
import railproof.run.SweepNote;
import railproof.sim.BenchClock;
import railproof.sim.SimulatedBench;

/**
 * Whole qualification runs with the real firmware on an emulated processor, over serial ports, against the same runs on
 * the simulated bench: what the board's other half, written from the same page in another language, makes of the same
 * unit. Needs socat, make, arm-none-eabi-gcc and qemu-system-arm. Takes at least as long as the run does: the board's
 * clock goes no faster than the wall clock, and the controller goes by the board's clock, so that a busy computer makes
 * the test longer and not another one.
 */
@Tag("qemu")
@Timeout(value = 20, unit = TimeUnit.MINUTES)
class EmulatedBoardRunTest {
    /**
     * A unit that falls out of regulation in every trough has its knee wherever in the line's cycle a level of the search
     * begins to be held, and the two runs are not at the same phase: seen was 0.8 %. Verdicts have to agree all the same.
     */
    private static final double KNEE_RATIO = 0.015;

    private static final Instant EPOCH = Instant.parse("2026-01-05T08:00:00Z");

    @ParameterizedTest
    @CsvSource({"counter-5v, '', PASSED", "tape-24v, open-rectifier-diode, UNIT_FAILED"})
    void theFirmwareGivesTheVerdictsOfTheSimulatedBench(
            String profile, String fault, ExitStatus status, @TempDir Path folder) throws Exception {
        RunResult simulated = simulated(folder.resolve("simulated"), profile, fault);
        RunResult emulated;
        long scans;
        try (EmulatedBench bench = new EmulatedBench(folder, profile, fault)) {
            BenchAccess access =
                    new BenchAccess(bench.clock(), Benches.ports(bench.rig().config()), false, "");
            emulated = new RunService(request(bench.rig(), profile, folder.resolve("emulated")), access)
                    .run(Operator.nobody(), event -> {});
            assertEquals(0, bench.board.outputsOutside(), "outputs after the run, seen from outside");
            scans = bench.scansGiven();
        }

        assertTrue(
                emulated.run().outcome().completed(),
                () -> emulated.run().outcome().toString());
        assertEquals(SafeState.CONFIRMED, emulated.run().outcome().safeState());
        assertTrue(
                emulated.run().header().instruments().stream().anyMatch(i -> i.contains("mps2-an385")),
                () -> emulated.run().header().instruments().toString());
        assertTrue(scans > 100_000, "the converter gave " + scans + " scans only");
        assertEquals(status, simulated.status());
        assertEquals(status, emulated.status());
        compare(checks(simulated), checks(emulated), status == ExitStatus.PASSED ? 0 : KNEE_RATIO);
        assertEquals(planned(simulated), planned(emulated));
        assertEquals(sections(simulated), sections(emulated));
        System.out.printf(
                "%s %s: %d points, %d scans, %.0f s%n",
                profile,
                fault,
                emulated.run().points().size(),
                scans,
                emulated.run().points().get(emulated.run().points().size() - 1).elapsedS());
    }

    private static void compare(List<Check> simulated, List<Check> emulated, double kneeRatio) {
        assertEquals(
                simulated.stream().map(c -> c.rail() + " " + c.id()).toList(),
                emulated.stream().map(c -> c.rail() + " " + c.id()).toList());
        for (int k = 0; k < simulated.size(); k++) {
            Check one = simulated.get(k);
            Check other = emulated.get(k);
            assertEquals(one.verdict(), other.verdict(), () -> one + "\n" + other);
            Optional<Measured> a = one.value().measured();
            Optional<Measured> b = other.value().measured();
            assertEquals(a.isPresent(), b.isPresent(), () -> one + "\n" + other);
            if (a.isPresent()) {
                // the errors of the inputs and loads are drawn alike on both sides, so each result has to lie within
                // the
                // other's expanded uncertainty; the added part in a thousand is for rounding where there is none
                double reach = Math.max(one.expandedU(), other.expandedU())
                        + 1e-3 * Math.abs(a.get().value())
                        + (ofTheKnee(one) ? kneeRatio * Math.abs(a.get().value()) : 0);
                assertEquals(a.get().value(), b.get().value(), reach, () -> one + "\n" + other);
            }
        }
    }

    /**
     * What the sweeps were asked for. The way back is left out: it takes more levels where the curve bent by more than
     * a threshold, and in a curve that lies near it the noise of the readings decides.
     */
    private static List<String> planned(RunResult result) {
        return result.run().points().stream()
                .filter(p -> p.section() == Section.LOAD_SWEEP || p.section() == Section.LINE_SWEEP)
                .filter(p -> !p.note().equals(SweepNote.BACK))
                .map(p -> p.section() + " " + p.rail() + " " + p.asked())
                .toList();
    }

    private static Set<Section> sections(RunResult result) {
        return result.run().points().stream().map(Point::section).collect(Collectors.toSet());
    }

    private static boolean ofTheKnee(Check check) {
        return check.id().equals("current-limit") || check.id().equals("limit-shape");
    }

    private static List<Check> checks(RunResult result) {
        return result.judgement().orElseThrow().checks();
    }

    private static RunRequest request(RigFile rig, String profile, Path data) {
        ProfileFile file = BuiltInFiles.profile(profile);
        return new RunRequest(rig, file, "LC-2107", Stage.AS_LEFT, "", data, Optional.empty(), false);
    }

    private static RunResult simulated(Path data, String profile, String fault) throws Exception {
        RigFile rig = BuiltInFiles.rig("simulated-bench");
        SimulatedBench bench =
                new SimulationSetup(rig, BuiltInFiles.profile(profile).profile(), fault).build();
        BenchAccess memory = new BenchAccess(
                new BenchClock(bench, EPOCH), Benches.memoryLinks(bench, rig.config()), true, "in memory");
        return new RunService(request(rig, profile, data), memory).run(Operator.nobody(), event -> {});
    }
}
