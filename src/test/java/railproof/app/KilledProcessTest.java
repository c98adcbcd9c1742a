package railproof.app;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.record.RunFolder;
import railproof.rig.file.BuiltInFiles;
import railproof.run.RunData;
import railproof.run.RunOutcome;
import railproof.run.SafeState;

/**
 * The controller's process ended in the middle of a sweep, the bench in another process in real time: the load is off
 * (after SIGKILL by the board's own heartbeat) and the folder can be read. Needs socat.
 */
@Tag("process")
@Tag("wallclock")
@Timeout(value = 5, unit = TimeUnit.MINUTES)
class KilledProcessTest {
    private static final int KILLED_BY_SIGNAL = 128 + 9;

    @ParameterizedTest
    @CsvSource({"INT, 3", "TERM, 3", "KILL, " + KILLED_BY_SIGNAL})
    void leavesTheLoadOffAndTheRecordReadable(String signal, int status, @TempDir Path folder) throws Exception {
        Path data = folder.resolve("data");
        try (ServedBench served = new ServedBench(folder, "counter-5v", false)) {
            Path rig = folder.resolve("rig.toml");
            Files.writeString(
                    rig,
                    served.rigFile(BuiltInFiles.rig("simulated-bench").source().text()),
                    UTF_8);
            Process controller = ControllerProcess.test(rig, data);
            served.await("load input on, load current (?!0\\.0000)");

            ControllerProcess.signal(controller, signal);

            served.await("line off, load input (on|off), load current 0\\.0000");
            assertTrue(controller.waitFor(30, TimeUnit.SECONDS), "the controller ends");
            assertEquals(status, controller.exitValue());
        }
        RunData run = RunFolder.read(RunFolder.runs(data).get(0));
        assertFalse(run.points().isEmpty(), "finished points are there");
        if (signal.equals("KILL")) {
            assertEquals(RunOutcome.End.INCOMPLETE, run.outcome().end());
        } else {
            assertEquals(RunOutcome.End.STOPPED, run.outcome().end());
            assertEquals(SafeState.CONFIRMED, run.outcome().safeState());
        }
    }
}
