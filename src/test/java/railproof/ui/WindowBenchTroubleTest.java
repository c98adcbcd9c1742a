package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import javafx.scene.input.KeyCode;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.app.ExitStatus;
import railproof.record.RunFolder;
import railproof.run.RunOutcome;

/** What the window does when the bench or the operator does not answer. */
@Tag("window")
class WindowBenchTroubleTest {
    @TempDir
    private Path data = Path.of("");

    private RunOutcome onlyOutcome() throws Exception {
        List<Path> runs = RunFolder.runs(data);
        assertEquals(1, runs.size(), "run folders");
        return RunFolder.read(runs.get(0)).outcome();
    }

    @Test
    void aLoadUnpluggedInMidRunEndsItAndRaisesAnAlarmUntilItIsSeen() throws Exception {
        TroubledBench bench = new TroubledBench();
        try (WindowBench window = new WindowBench(
                new WindowSettings("simulated-bench", data, "test", Optional.empty()), bench, 1024, 768)) {
            window.begin("LC-2107", "counter-5v", "now");
            window.untilSays("load-state", "LOAD ON");
            // seen from another screen, the run goes on and the stop stays
            window.key(KeyCode.F4);
            window.untilSays("wants", "Under way: the test of unit LC-2107");
            assertTrue(window.shows("stop"), "the stop is on every screen");
            bench.pull("load-1");
            window.untilSays("alarm", "load-1");
            window.untilSays("wants", "Over: the test of unit LC-2107");
            window.picture("trouble-alarm");
            window.key(KeyCode.F8);
            window.until("the alarm was seen", () -> !NodeWalk.seen(window.lookup("alarm")));
            window.key(KeyCode.F2);
            window.untilShown("verdict");
            window.picture("trouble-verdict");
            assertTrue(window.text("verdict").contains("not complete"), window.text("verdict"));
        }
        RunOutcome outcome = onlyOutcome();
        assertEquals(RunOutcome.End.FAULTED, outcome.end());
        assertTrue(outcome.cause().contains("load-1"), outcome.cause());
    }

    @Test
    void aQuestionNobodyAnswersIsShownEverywhereAndEndsTheRunSafely() throws Exception {
        Path rig = TroubledBench.handTurned(data.resolveSibling(data.getFileName() + "-hand-turned.toml"));
        TroubledBench bench = new TroubledBench();
        try (WindowBench window =
                new WindowBench(new WindowSettings(rig.toString(), data, "test", Optional.empty()), bench, 1280, 800)) {
            window.begin("LC-2107", "counter-5v", "now");
            window.until("the line is to be turned", () -> {
                boolean asked = window.lookup("prompt") instanceof javafx.scene.control.Label prompt
                        && prompt.getText().startsWith("Line: ");
                // from here on the bench's five minutes of patience take as long as the test needs
                if (asked) {
                    bench.slow();
                }
                return asked;
            });
            assertFalse(window.shows("done"), "the bench sees for itself when it is done");
            window.picture("trouble-prompt");
            assertEquals("LINE ON", window.text("line-state"), "a line that is being turned up is live");
            window.key(KeyCode.F7);
            window.untilSays("wants", "ASKS FOR YOU");
            window.picture("trouble-prompt-elsewhere");
            bench.goOn();
            window.key(KeyCode.F2);
            window.untilShown("verdict");
            assertEquals("LOAD OFF", window.text("load-state"));
            assertEquals("confirmed", window.text("load-detail"));
            assertEquals(ExitStatus.RIG_TROUBLE, window.status());
        } finally {
            Files.deleteIfExists(rig);
        }
        RunOutcome outcome = onlyOutcome();
        assertEquals(RunOutcome.End.STOPPED, outcome.end(), outcome.cause());
    }
}
