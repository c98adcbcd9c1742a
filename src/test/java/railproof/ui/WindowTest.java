package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import javafx.event.Event;
import javafx.scene.Scene;
import javafx.scene.control.ComboBox;
import javafx.scene.control.TableView;
import javafx.scene.control.TextField;
import javafx.scene.input.KeyCode;
import javafx.scene.input.KeyEvent;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.app.ExitStatus;
import railproof.record.RunFolder;
import railproof.run.RunData;
import railproof.run.RunOutcome;
import railproof.run.SafeState;

/** Whole flows by keyboard alone, on a virtual display. */
@Tag("window")
class WindowTest {
    @TempDir
    private Path data = Path.of("");

    private WindowBench window(int width, int height) throws Exception {
        return new WindowBench(new WindowSettings("simulated-bench", data, "test", Optional.empty()), width, height);
    }

    /** From the serial number to the first switch-on, by keys only. */
    private static void upToTheRun(WindowBench window, String serial, String profile, String pictures)
            throws Exception {
        window.focused("serial");
        window.type(serial);
        window.key(KeyCode.ENTER);
        window.focused("profile");
        window.choose("profile", profile);
        window.picture(pictures + "-1-start");
        window.key(KeyCode.ENTER);
        window.untilShown("start");
        window.tickEverything();
        window.picture(pictures + "-2-checklist");
        window.key(KeyCode.ENTER);
        window.untilShown("now");
    }

    private RunData onlyRun() throws Exception {
        List<Path> runs = RunFolder.runs(data);
        assertEquals(1, runs.size(), "run folders");
        return RunFolder.read(runs.get(0));
    }

    @Test
    void downOpensTheListAndTheWayBackKeepsWhatWasFilledIn() throws Exception {
        try (WindowBench window = window(1024, 768)) {
            window.focused("serial");
            window.type("LC-2107");
            window.key(KeyCode.ENTER);
            window.focused("profile");
            ComboBox<?> profile = (ComboBox<?>) window.node("profile");
            window.key(KeyCode.DOWN);
            window.until("the list is open", profile::isShowing);
            window.key(KeyCode.DOWN);
            window.key(KeyCode.ENTER);
            window.until(
                    "a profile is taken",
                    () -> !profile.isShowing() && !profile.getEditor().getText().isEmpty());
            String chosen = profile.getEditor().getText();
            window.key(KeyCode.ENTER);
            window.untilShown("start");
            window.press("checklist-back");
            window.untilShown("serial");

            assertEquals("LC-2107", ((TextField) window.node("serial")).getText());
            assertEquals(
                    chosen, ((ComboBox<?>) window.node("profile")).getEditor().getText());
        }
    }

    @Test
    void aGoodUnitGoesFromItsSerialNumberToPassWithoutAMouse() throws Exception {
        try (WindowBench window = window(1280, 800)) {
            upToTheRun(window, "LC-2107", "counter-5v", "good");
            window.untilSays("load-state", "LOAD ON");
            assertTrue(window.text("line-state").contains("LINE ON"), window.text("line-state"));
            window.picture("good-3-run");
            window.untilSays("now", "current limit");
            window.picture("good-4-limit");
            window.untilShown("verdict");
            window.picture("good-5-verdict");
            assertTrue(window.text("verdict").contains("PASS"), window.text("verdict"));
            assertEquals("LOAD OFF", window.text("load-state"));
            assertEquals("confirmed", window.text("load-detail"));
            int rows = ((TableView<?>) window.node("checks")).getItems().size();
            assertTrue(rows > 5, rows + " checks");
            assertEquals(ExitStatus.PASSED, window.status());
            window.key(KeyCode.ENTER);
            window.focused("serial");
        }
        assertEquals(RunOutcome.End.COMPLETED, onlyRun().outcome().end());
    }

    @Test
    void aBadUnitFailsAndTheWindowSaysSo() throws Exception {
        try (WindowBench window = window(1024, 768)) {
            window.key(KeyCode.F6);
            window.choose("fault", "reservoir-high-esr");
            upToTheRun(window, "LC-2108", "counter-5v", "bad-dark");
            window.untilSays("now", "line sweep");
            window.picture("bad-dark-3-run");
            window.untilShown("verdict");
            window.picture("bad-dark-4-verdict");
            assertTrue(window.text("verdict").contains("FAIL"), window.text("verdict"));
            assertEquals(ExitStatus.UNIT_FAILED, window.status());
        }
    }

    @Test
    void escapeInMidSweepTakesEverythingOffAndKeepsTheRecord() throws Exception {
        try (WindowBench window = window(1280, 800)) {
            upToTheRun(window, "TM-0417", "tape-24v", "stop");
            window.untilSays("load-state", "LOAD ON");
            window.key(KeyCode.ESCAPE);
            window.untilShown("verdict");
            window.picture("stop-3-verdict");
            assertEquals("LOAD OFF", window.text("load-state"));
            assertEquals("confirmed", window.text("load-detail"));
            assertEquals(ExitStatus.RIG_TROUBLE, window.status());
        }
        RunOutcome outcome = onlyRun().outcome();
        assertEquals(RunOutcome.End.STOPPED, outcome.end());
        assertEquals(SafeState.CONFIRMED, outcome.safeState());
        assertTrue(outcome.cause().contains("window"), outcome.cause());
    }

    @Test
    void closingTheWindowInMidRunMakesSafeFirst() throws Exception {
        try (WindowBench window = window(1280, 800)) {
            upToTheRun(window, "TM-0417", "tape-24v", "close");
            window.untilSays("load-state", "LOAD ON");
            window.requestClose();
            window.untilClosed();
        }
        RunOutcome outcome = onlyRun().outcome();
        assertEquals(RunOutcome.End.STOPPED, outcome.end());
        assertEquals(SafeState.CONFIRMED, outcome.safeState());
    }

    @Test
    void aUnitWithHazardousVoltageStartsOnlyAfterASecondStep() throws Exception {
        try (WindowBench window = window(1280, 800)) {
            window.focused("serial");
            window.type("LC-0175");
            window.key(KeyCode.ENTER);
            window.focused("profile");
            window.choose("profile", "counter-175v");
            window.key(KeyCode.ENTER);
            window.untilShown("second-step");
            window.tickEverything();
            window.focused("second-step");
            assertTrue(window.node("start").isDisabled(), "start before the second step");
            window.type("17");
            assertTrue(window.node("start").isDisabled(), "start after a wrong number");
            window.picture("hazard-checklist");
        }
        assertEquals(List.of(), RunFolder.runs(data));
    }

    @Test
    void noKeyHeldDownGoesThroughTheChecklistAndSwitchesOn() throws Exception {
        try (WindowBench window = window(1280, 800)) {
            window.focused("serial");
            window.choose("profile", "counter-5v");
            window.type("LC-2107");
            window.key(KeyCode.ENTER);
            window.untilShown("start");
            for (int i = 0; i < 3; i++) {
                window.key(KeyCode.ENTER);
            }
            assertEquals("6 still to be ticked: Space ticks and moves on.", window.text("checklist-left"));
            window.tickEverything();
            window.focused("start");
            for (int i = 0; i < 3; i++) {
                window.key(KeyCode.SPACE);
            }
            assertTrue(window.shows("start"), "Space starts nothing");
            assertEquals(List.of(), RunFolder.runs(data));
        }
    }

    @Test
    void enterPressedTwiceBeginsOneRun() throws Exception {
        try (WindowBench window = window(1280, 800)) {
            window.focused("serial");
            window.choose("profile", "tape-24v");
            window.type("TM-0417");
            window.key(KeyCode.ENTER);
            window.untilShown("start");
            window.tickEverything();
            window.focused("start");
            WindowBench.onFx(() -> {
                // both are on their way before the first has done its work
                Scene scene = window.lookup("start").getScene();
                Event.fireEvent(scene, enter());
                Event.fireEvent(scene, enter());
                return true;
            });
            window.untilSays("load-state", "LOAD ON");
            assertTrue(window.shows("now"), "the run is shown");
            window.key(KeyCode.ESCAPE);
            window.untilShown("verdict");
        }
        onlyRun();
    }

    private static KeyEvent enter() {
        return new KeyEvent(KeyEvent.KEY_PRESSED, "", "", KeyCode.ENTER, false, false, false, false);
    }

    @Test
    void whatCannotBeUsedIsSaidBeforeAnythingStarts() throws Exception {
        try (WindowBench window = window(1280, 800)) {
            window.focused("serial");
            window.type("LC-1");
            window.choose("profile", "counter-6v");
            window.choose("rig", "no-such-bench");
            window.key(KeyCode.ENTER);
            window.until(
                    "both problems are listed",
                    () -> ((javafx.scene.layout.VBox) window.lookup("problems"))
                                    .getChildren()
                                    .size()
                            == 2);
            window.picture("problems");
        }
    }
}
