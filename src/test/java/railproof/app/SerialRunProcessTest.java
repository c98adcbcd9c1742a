package railproof.app;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.SystemClock;
import railproof.profile.ProfileFile;
import railproof.rig.Operator;
import railproof.rig.file.BuiltInFiles;
import railproof.rig.file.RigFile;
import railproof.run.Stage;
import railproof.sim.BenchClock;
import railproof.sim.SimulatedBench;
import railproof.wire.serial.SerialLink;
import railproof.wire.serial.SerialSettings;

/** The same run in memory, and over serial lines to the simulated instruments in another process. Needs socat. */
@Tag("process")
@Timeout(value = 10, unit = TimeUnit.MINUTES)
class SerialRunProcessTest {
    private static final Instant EPOCH = Instant.parse("2026-01-05T08:00:00Z");
    private static final RigFile RIG = BuiltInFiles.rig("simulated-bench");
    private static final ProfileFile PROFILE = BuiltInFiles.profile("counter-5v");

    private static RunRequest request(Path data) {
        return new RunRequest(RIG, PROFILE, "LC-2107", Stage.AS_LEFT, "", data, Optional.empty(), false);
    }

    @Test
    void givesTheSamePointsByteForByte(@TempDir Path folder) throws Exception {
        SimulatedBench bench = new SimulationSetup(RIG, PROFILE.profile(), "").build();
        BenchAccess memory = new BenchAccess(
                new BenchClock(bench, EPOCH), Benches.memoryLinks(bench, RIG.config()), true, "in memory");
        RunResult inMemory =
                new RunService(request(folder.resolve("memory")), memory).run(Operator.nobody(), event -> {});

        RunResult overSerial;
        try (ServedBench served = new ServedBench(folder, "counter-5v", true);
                SerialLink time =
                        SerialLink.open("time", SerialSettings.board(served.port("time")), SystemClock.INSTANCE)) {
            LockstepCable cable = new LockstepCable(time, EPOCH);
            BenchAccess serial = new BenchAccess(
                    cable,
                    (link, clock) -> cable.link(SerialLink.open(
                            link.name(), SerialSettings.board(served.port(link.name())), SystemClock.INSTANCE)),
                    true,
                    "over serial lines");
            overSerial = new RunService(request(folder.resolve("serial")), serial).run(Operator.nobody(), event -> {});
        }

        assertEquals(ExitStatus.PASSED, inMemory.status());
        assertEquals(
                ExitStatus.PASSED,
                overSerial.status(),
                () -> overSerial.run().outcome().toString());
        assertEquals(points(inMemory), points(overSerial));
    }

    private static String points(RunResult result) throws Exception {
        return Files.readString(result.folder().resolve("points.csv"), UTF_8);
    }
}
