package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javafx.scene.control.TableView;
import javafx.scene.input.KeyCode;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.run.Stage;

/**
 * Every screen in both themes and at two sizes: pictures to be looked at, and on each screen a name for every control
 * and no words cut off.
 */
@Tag("window")
class WindowPicturesTest {
    @TempDir
    private Path data = Path.of("");

    private final List<String> nameless = new ArrayList<>();
    private final List<String> cut = new ArrayList<>();

    @Test
    void everyScreenInBothThemesAndAtTwoSizes() throws Exception {
        Benchwork.test(data, "counter-5v", "LC-2107", Stage.AS_FOUND, Optional.of("reservoir-high-esr"));
        Benchwork.test(data, "counter-5v", "LC-2107", Stage.AS_LEFT, Optional.empty());
        Benchwork.dictionary(data, "counter-5v");
        try (WindowBench window =
                new WindowBench(new WindowSettings("simulated-bench", data, "m. k.", Optional.empty()), 1024, 768)) {
            start(window);
            rig(window);
            files(window);
            records(window);
            wall(window);
        }
        assertEquals(List.of(), nameless, "controls without a name for a screen reader");
        assertEquals(List.of(), cut, "words that are cut off");
    }

    /** Pictures of what is shown, in both themes at both sizes. */
    private void all(WindowBench window, String name) throws Exception {
        for (int[] size : new int[][] {{1024, 768}, {1920, 1080}}) {
            window.resize(size[0], size[1]);
            for (String theme : List.of("light", "dark")) {
                String picture = name + "-" + theme + "-" + size[0];
                window.picture("screens/" + picture);
                window.look(NodeWalk::nameless).forEach(each -> nameless.add(picture + ": " + each));
                window.look(NodeWalk::cutOff).forEach(each -> cut.add(picture + ": " + each));
                window.key(KeyCode.F6);
            }
        }
    }

    private void start(WindowBench window) throws Exception {
        window.focused("serial");
        window.type("LC-2107");
        window.key(KeyCode.ENTER);
        window.focused("profile");
        all(window, "start");
        window.key(KeyCode.ENTER);
        window.untilShown("start");
        all(window, "checklist");
    }

    private void rig(WindowBench window) throws Exception {
        window.key(KeyCode.F5);
        window.focused("rig-file");
        window.press("check-rig");
        window.untilSays("rig-verdict", "as they should be");
        all(window, "rig");
    }

    private void files(WindowBench window) throws Exception {
        window.key(KeyCode.F7);
        window.focused("file");
        window.type("counter-5v");
        window.press("open-file");
        window.focused("text");
        window.type("x");
        window.untilSays("file-state", "problem");
        all(window, "files");
        Files.deleteIfExists(Path.of("my-counter-5v.toml"));
    }

    private void records(WindowBench window) throws Exception {
        window.key(KeyCode.F4);
        window.untilShown("runs");
        window.until(
                "all runs are listed",
                () -> ((TableView<?>) window.lookup("runs")).getItems().size() == 2);
        all(window, "history");
        window.tabTo("runs");
        window.key(KeyCode.DOWN);
        window.key(KeyCode.SPACE);
        window.key(KeyCode.UP);
        window.key(KeyCode.C);
        window.untilShown("differences");
        all(window, "before-after");
        window.key(KeyCode.ENTER);
        window.untilShown("runs");
        window.tabTo("runs");
        window.key(KeyCode.DOWN);
        window.key(KeyCode.ENTER);
        window.untilShown("verdict");
        all(window, "verdict");
        window.press("diagnose");
        window.untilSays("conclusion", "reservoir");
        all(window, "diagnosis");
        window.press("back");
        window.untilShown("verdict");
        window.key(KeyCode.ENTER);
        window.untilShown("runs");
        window.tabTo("runs");
        window.key(KeyCode.UP);
        window.key(KeyCode.ENTER);
        window.untilShown("verdict");
        window.press("sign-off");
        window.focused("signer");
        all(window, "sign-off");
    }

    private void wall(WindowBench window) throws Exception {
        window.key(KeyCode.F3);
        window.focused("serial");
        window.choose("profile", "counter-3rail");
        all(window, "burn-in-form");
        for (String unit : List.of("LC-0301", "LC-0302")) {
            window.focused("serial");
            window.choose("profile", "counter-3rail");
            WindowBench.onFx(() -> {
                ((javafx.scene.control.TextField) window.lookup("hours")).setText("168");
                return true;
            });
            window.type(unit);
            window.key(KeyCode.ENTER);
            window.untilShown("start");
            window.tickEverything();
            window.key(KeyCode.ENTER);
            window.untilShown("wall");
            if (unit.endsWith("1")) {
                window.press("add-unit");
            }
        }
        window.untilSays("unit-1-state", "under load");
        window.untilSays("unit-2-state", "under load");
        all(window, "wall");
        window.key(KeyCode.ESCAPE);
        window.untilSays("unit-1-state", "not complete");
        window.untilSays("unit-2-state", "not complete");
    }
}
