package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import javafx.scene.control.Labeled;
import javafx.scene.control.ListView;
import javafx.scene.control.TableView;
import javafx.scene.control.TextArea;
import javafx.scene.control.TextField;
import javafx.scene.input.KeyCode;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.record.RunFolder;
import railproof.rig.file.BuiltInFiles;
import railproof.run.Stage;

/** What is done with records and files, by keyboard alone, on a virtual display. */
@Tag("window")
class WindowRecordsTest {
    @TempDir
    private static Path data = Path.of("");

    private static Path asFound = Path.of("");

    private final Gallery gallery = new Gallery();

    @BeforeAll
    static void aUnitThatWasRepaired() throws Exception {
        asFound = Benchwork.test(data, "counter-5v", "LC-2107", Stage.AS_FOUND, Optional.of("reservoir-high-esr"));
        Benchwork.test(data, "counter-5v", "LC-2107", Stage.AS_LEFT, Optional.empty());
        Benchwork.test(data, "tape-24v", "TM-0417", Stage.AS_LEFT, Optional.empty());
        Benchwork.dictionary(data, "counter-5v");
    }

    @AfterEach
    void everythingHasANameAndCanBeRead() {
        gallery.everythingHasANameAndCanBeRead();
    }

    private static WindowBench window() throws Exception {
        return new WindowBench(new WindowSettings("simulated-bench", data, "m. k.", Optional.empty()), 1280, 800);
    }

    private static int rows(WindowBench window, String id) throws Exception {
        return ((TableView<?>) window.node(id)).getItems().size();
    }

    private static void history(WindowBench window, String unit, int runs) throws Exception {
        window.key(KeyCode.F4);
        window.untilShown("runs");
        window.tabTo("history-unit");
        window.type(unit);
        window.key(KeyCode.ENTER);
        window.until("the runs of " + unit + " are listed", () -> rows(window, "runs") == runs);
        window.tabTo("runs");
    }

    @Test
    void theHistoryFindsAUnitAndOpensItsRun() throws Exception {
        try (WindowBench window = window()) {
            window.key(KeyCode.F4);
            window.untilShown("runs");
            window.until("all runs are listed", () -> rows(window, "runs") == 3);
            window.choose("history-verdict", "fail");
            window.until("only what failed is listed", () -> rows(window, "runs") == 1);
            window.choose("history-verdict", "any");
            history(window, "LC-2107", 2);
            window.key(KeyCode.DOWN);
            gallery.take(window, "history");
            window.key(KeyCode.ENTER);
            window.untilShown("verdict");
            assertTrue(window.text("verdict").contains("FAIL"), window.text("verdict"));
            assertTrue(window.text("subject").contains("as-found"), window.text("subject"));
            assertTrue(window.shows("simulated-mark"), "a simulated record is marked");
            window.key(KeyCode.ENTER);
            window.untilShown("runs");
        }
    }

    @Test
    void aRunMarkedAsBeforeIsLaidUnderAnother() throws Exception {
        try (WindowBench window = window()) {
            history(window, "LC-2107", 2);
            window.key(KeyCode.DOWN);
            window.key(KeyCode.SPACE);
            window.key(KeyCode.UP);
            window.key(KeyCode.C);
            window.untilShown("differences");
            gallery.take(window, "before-after");
            assertTrue(window.text("changes").contains("From fail to pass: +5 V"), window.text("changes"));
            assertTrue(rows(window, "differences") > 5, "checks side by side");
            window.key(KeyCode.ENTER);
            window.untilShown("runs");
        }
    }

    @Test
    void beforeAndAfterFindsTheAsFoundRunByItself() throws Exception {
        try (WindowBench window = window()) {
            history(window, "LC-2107", 2);
            window.key(KeyCode.ENTER);
            window.untilShown("verdict");
            window.press("before-after");
            window.untilShown("differences");
            assertTrue(window.text("changes").contains("From fail to pass: +5 V"), window.text("changes"));
        }
    }

    @Test
    void theDiagnosisShowsTheBadStageAndTakesAMeterReading() throws Exception {
        try (WindowBench window = window()) {
            history(window, "LC-2107", 2);
            window.key(KeyCode.DOWN);
            window.key(KeyCode.ENTER);
            window.untilShown("verdict");
            window.press("diagnose");
            window.untilSays("conclusion", "reservoir");
            gallery.take(window, "diagnosis");
            String before = window.text("conclusion");
            // the meter goes to a node under the cover only after the cautions were read
            WindowBench.onFx(() -> {
                nodes(window).setValue(railproof.diagnosis.ProbeNode.RAW);
                return true;
            });
            assertTrue(window.node("take").isDisabled(), "readings before the cautions were read");
            window.tabTo("cautions-read");
            window.key(KeyCode.SPACE);
            window.focused("meter-0");
            window.type("twelve");
            window.key(KeyCode.ENTER);
            window.until(
                    "what is no number is said", () -> !((javafx.scene.layout.VBox) window.lookup("meter-problems"))
                            .getChildren()
                            .isEmpty());
            window.key(KeyCode.CONTROL, KeyCode.A);
            window.type("14.1");
            window.key(KeyCode.ENTER);
            window.until("the reading is taken", () -> ((javafx.scene.layout.VBox) window.lookup("meter-problems"))
                    .getChildren()
                    .isEmpty());
            window.untilSays("conclusion", "reservoir");
            assertFalse(before.isEmpty(), before);
            window.press("keep");
            window.untilSays("kept", "kept: it was the reservoir capacitor");
        }
        assertTrue(Files.readString(asFound.resolve("repair.json")).contains("reservoir-capacitor"));
    }

    @SuppressWarnings("unchecked") // that box holds nodes
    private static javafx.scene.control.ComboBox<railproof.diagnosis.ProbeNode> nodes(WindowBench window)
            throws Exception {
        return (javafx.scene.control.ComboBox<railproof.diagnosis.ProbeNode>) window.node("node");
    }

    @Test
    void signingOffIsRefusedWithEveryReasonAndThenDone() throws Exception {
        try (WindowBench window = window()) {
            history(window, "TM-0417", 1);
            window.key(KeyCode.ENTER);
            window.untilShown("verdict");
            window.press("sign-off");
            window.focused("signer");
            gallery.take(window, "sign-off");
            window.key(KeyCode.ENTER);
            window.until("the reasons are listed", () -> answers(window).size() >= 3);
            gallery.take(window, "sign-off-refused");
            String said = String.join("\n", answers(window));
            assertTrue(said.contains("nothing is named that was checked"), said);
            assertTrue(said.contains("simulated"), said);
            window.tabTo("checked-more");
            window.type("INSULATION");
            window.tabTo("training");
            window.key(KeyCode.SPACE);
            // from the box itself: Enter goes on, and does not take the tick away again
            window.key(KeyCode.ENTER);
            window.untilShown("signed");
            window.picture("sign-off-done");
            assertTrue(window.text("signed").contains("TRAINING"), window.text("signed"));
        }
        List<Path> signed = RunFolder.runs(data).stream()
                .filter(run -> Files.exists(run.resolve(RunFolder.SIGN_OFF_FILE)))
                .toList();
        assertEquals(1, signed.size(), signed::toString);
    }

    private static List<String> answers(WindowBench window) throws Exception {
        return ((javafx.scene.layout.VBox) window.node("sign-off-answer"))
                .getChildren().stream().map(each -> ((Labeled) each).getText()).toList();
    }

    @Test
    void aFileWithMistakesIsNotSavedAndNothingTypedIsLost(@TempDir Path folder) throws Exception {
        Path mine = folder.resolve("mine.toml");
        String good = BuiltInFiles.profile("counter-5v").source().text();
        Files.writeString(mine, good);
        try (WindowBench window = window()) {
            open(window, mine);
            window.type("x");
            window.untilSays("file-state", "problem");
            window.until(
                    "the place is named",
                    () -> problems(window).getItems().get(0).text().startsWith("mine.toml:1:"));
            window.key(KeyCode.CONTROL, KeyCode.S);
            window.untilSays("file-state", "Not saved");
            window.picture("files-mistake");
            assertEquals(good, Files.readString(mine), "the file is as it was");
        }
        try (WindowBench window = window()) {
            open(window, mine);
            window.untilSays("file-state", "taken up again");
            assertEquals("x" + good, ((TextArea) window.node("text")).getText());
            window.key(KeyCode.DELETE);
            window.untilSays("file-state", "Nothing is wrong");
            window.type("  ");
            window.key(KeyCode.CONTROL, KeyCode.S);
            window.untilSays("file-state", "Saved to");
        }
        assertEquals("  " + good, Files.readString(mine));
        try (WindowBench window = window()) {
            open(window, mine);
            window.untilSays("file-state", "Nothing is wrong with it. Saved.");
        }
    }

    @SuppressWarnings("unchecked") // that list holds problems
    private static ListView<railproof.base.Problem> problems(WindowBench window) throws Exception {
        return (ListView<railproof.base.Problem>) window.node("file-problems");
    }

    private static void open(WindowBench window, Path file) throws Exception {
        window.key(KeyCode.F7);
        window.focused("file");
        WindowBench.onFx(() -> {
            ((javafx.scene.control.ComboBox<?>) window.node("file")).getEditor().setText(file.toString());
            return true;
        });
        window.press("open-file");
        window.focused("text");
        window.until(
                "its place is shown",
                () -> ((TextField) window.node("into")).getText().equals(file.toString()));
    }

    @Test
    void theRigIsLookedOverAndAChannelCalibrated(@TempDir Path folder) throws Exception {
        Path rig = WindowBench.toBeCalibrated(folder.resolve("bench.toml"));
        try (WindowBench window =
                new WindowBench(new WindowSettings(rig.toString(), data, "m. k.", Optional.empty()), 1280, 800)) {
            window.key(KeyCode.F5);
            window.focused("rig-file");
            window.press("check-rig");
            window.untilSays("rig-verdict", "as they should be");
            assertTrue(rows(window, "findings") > 5, "findings");
            window.calibrate();
            window.picture("rig");
        }
        assertTrue(Files.exists(folder.resolve("bench.calibration.toml")), "the calibration file is written");
    }
}
