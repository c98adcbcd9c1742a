package railproof.app;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import railproof.record.RunFolder;
import railproof.rig.file.BuiltInFiles;
import railproof.run.RunData;
import railproof.run.RunOutcome;
import railproof.run.SafeState;

/** Two programs are started on one bench behind serial ports. Needs socat. */
@Tag("process")
@Tag("wallclock")
@Timeout(value = 5, unit = TimeUnit.MINUTES)
class TwoControllersProcessTest {
    private static final int RIG_TROUBLE = 3;

    @Test
    void theSecondIsRefusedAndTheFirstGoesOn(@TempDir Path folder) throws Exception {
        Path data = folder.resolve("data");
        try (ServedBench served = new ServedBench(folder, "counter-5v", false)) {
            Path rig = Files.writeString(
                    folder.resolve("rig.toml"),
                    served.rigFile(BuiltInFiles.rig("simulated-bench").source().text())
                            // a computer that starts two programs at once may keep each waiting for a while
                            .replace("heartbeat_timeout_ms = 500", "heartbeat_timeout_ms = 2000"),
                    UTF_8);
            Process first = ControllerProcess.test(rig, data, ProcessBuilder.Redirect.DISCARD);
            served.await("load input on, load current (?!0\\.0000)");

            Path said = folder.resolve("second.txt");
            Process second =
                    ControllerProcess.test(rig, folder.resolve("second"), ProcessBuilder.Redirect.to(said.toFile()));
            assertTrue(second.waitFor(60, TimeUnit.SECONDS), "the second ends");

            String words = Files.readString(said);
            assertEquals(RIG_TROUBLE, second.exitValue(), words);
            assertTrue(words.contains("another program has it open"), words);
            assertFalse(words.contains("Exception") || words.contains("\tat "), words);
            assertFalse(Files.exists(folder.resolve("second")), "no run was begun");
            first.destroy();
            assertTrue(first.waitFor(30, TimeUnit.SECONDS), "the first ends");
            served.await("line off, load input (on|off), load current 0\\.0000");
        }
        RunData run = RunFolder.read(RunFolder.runs(data).get(0));
        // a computer that stalls for half a second meanwhile ends the first by silence; the second never does
        boolean stalled = run.outcome().end() == RunOutcome.End.FAULTED
                && run.outcome().cause().matches(".*(no usable reply|HOST_SILENT).*");
        assertTrue(
                stalled || run.outcome().end() == RunOutcome.End.STOPPED,
                run.outcome().cause());
        assertEquals(SafeState.CONFIRMED, run.outcome().safeState());
    }
}
