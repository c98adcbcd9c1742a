package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import javafx.scene.input.KeyCode;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.record.RunFolder;
import railproof.run.RunData;
import railproof.run.RunOutcome;
import railproof.run.SafeState;

/** Several units burnt in at once in one window, by keyboard alone. */
@Tag("window")
class WindowWallTest {
    @TempDir
    private Path data = Path.of("");

    private WindowBench window() throws Exception {
        return new WindowBench(new WindowSettings("simulated-bench", data, "test", Optional.empty()), 1600, 1000);
    }

    @Test
    void fourUnitsAtOnceAndStoppingOneTouchesNoOther() throws Exception {
        List<String> units = List.of("LC-2107", "TM-0417", "LC-0512", "TM-0601");
        List<String> profiles = List.of("counter-5v", "tape-24v", "counter-15v", "tape-6v");
        try (WindowBench window = window()) {
            window.key(KeyCode.F3);
            window.focused("serial");
            // a week, in the bench's own time: it outlasts this test however fast the machine is
            window.tabTo("hours");
            window.type("168");
            window.tabTo("serial");
            for (int i = 0; i < units.size(); i++) {
                window.begin(units.get(i), profiles.get(i), "wall");
                window.untilShown("unit-" + (i + 1));
                if (i + 1 < units.size()) {
                    window.press("add-unit");
                }
            }
            for (int i = 1; i <= units.size(); i++) {
                window.untilSays("unit-" + i + "-state", "under load");
            }
            window.untilSays("load-detail", "on 4 of 4");
            window.picture("wall-four");
            // a second unit of the same serial number is refused
            window.press("add-unit");
            window.focused("serial");
            window.choose("profile", "counter-5v");
            window.type("LC-2107");
            window.key(KeyCode.ENTER);
            window.until("the twin is refused", () -> !((javafx.scene.layout.VBox) window.lookup("burn-in-problems"))
                    .getChildren()
                    .isEmpty());
            window.press("to-wall");
            window.key(KeyCode.DIGIT2);
            window.focused("unit-2-pause");
            window.press("unit-2-stop");
            window.untilSays("unit-2-state", "not complete");
            window.untilSays("load-detail", "on 3 of 4");
            assertTrue(window.text("unit-1-state").contains("under load"), window.text("unit-1-state"));
            window.key(KeyCode.DIGIT3);
            window.focused("unit-3-pause");
            window.key(KeyCode.ENTER);
            window.untilSays("unit-3-state", "paused");
            window.untilSays("load-detail", "on 2 of 4");
            // other screens keep the wall in sight, and the stop
            window.key(KeyCode.F4);
            window.untilSays("wants", "Under way: the burn-in of 4 units");
            window.key(KeyCode.ESCAPE);
            window.untilSays("wants", "Over: the burn-in of 4 units");
            window.untilSays("load-detail", "on all benches");
            assertEquals("LOAD OFF", window.text("load-state"));
            window.key(KeyCode.F3);
            window.picture("wall-stopped");
        }
        allWereStoppedAndAreOff();
    }

    private void allWereStoppedAndAreOff() throws Exception {
        List<Path> runs = RunFolder.runs(data);
        assertEquals(4, runs.size(), "run folders");
        for (Path run : runs) {
            isStoppedAndSafe(RunFolder.read(run));
        }
    }

    private static void isStoppedAndSafe(RunData run) {
        assertEquals(RunOutcome.End.STOPPED, run.outcome().end(), run.outcome().cause());
        assertEquals(SafeState.CONFIRMED, run.outcome().safeState());
    }

    @Test
    void aUnitThatLeavesItsBandRaisesAnAlarmAndAnotherEndsWithItsVerdict() throws Exception {
        try (WindowBench window = window()) {
            window.key(KeyCode.F3);
            window.focused("serial");
            window.tabTo("hours");
            window.type("0.05");
            window.choose("fault", "reservoir-high-esr");
            window.tabTo("serial");
            window.begin("LC-2107", "counter-5v", "wall");
            window.untilSays("alarm", "LC-2107");
            window.picture("wall-alarm");
            window.key(KeyCode.F8);
            window.until("the alarm was seen", () -> !NodeWalk.seen(window.lookup("alarm")));
            window.untilSays("unit-1-state", "✗");
            window.press("add-unit");
            window.choose("fault", "none: a good unit");
            window.begin("TM-0417", "tape-24v", "wall");
            window.untilSays("unit-2-state", "PASS");
            assertFalse(window.text("unit-2-state").contains("not complete"), window.text("unit-2-state"));
            window.picture("wall-passed");
            window.key(KeyCode.DIGIT2);
            window.focused("unit-2-open");
            window.key(KeyCode.ENTER);
            window.untilShown("verdict");
            window.press("curves");
            window.untilShown("curve");
            window.picture("burn-in-curve");
        }
    }
}
