package railproof.ui;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import javafx.scene.control.Labeled;
import javafx.scene.input.KeyCode;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Pictures of the screens that are not pictured where they are tested. */
@Tag("window")
class WindowPicturesTest {
    @TempDir
    private Path data = Path.of("");

    private final Gallery gallery = new Gallery();

    @AfterEach
    void everythingHasANameAndCanBeRead() {
        gallery.everythingHasANameAndCanBeRead();
    }

    private WindowBench window(String rig, Shell.BenchSource benches) throws Exception {
        return new WindowBench(new WindowSettings(rig, data, "m. k.", Optional.empty()), benches, 1024, 768);
    }

    @Test
    void everyScreenFromTheSerialNumberToTheVerdict() throws Exception {
        TroubledBench bench = new TroubledBench();
        try (WindowBench window = window("simulated-bench", bench)) {
            start(window);
            run(window, bench);
            rig(window);
            files(window);
        }
    }

    @Test
    void theWallOfABurnIn() throws Exception {
        try (WindowBench window = window("simulated-bench", new TroubledBench())) {
            wall(window);
        }
    }

    @Test
    void whateverIsInTheWay() throws Exception {
        TroubledBench bench = new TroubledBench();
        try (WindowBench window = window("simulated-bench", bench)) {
            window.focused("serial");
            window.type("LC-0175");
            window.choose("profile", "counter-175v");
            window.key(KeyCode.ENTER);
            window.untilShown("second-step");
            window.tickEverything();
            window.focused("second-step");
            gallery.take(window, "second-step");
            window.press("checklist-back");
            window.focused("serial");
            window.key(KeyCode.CONTROL, KeyCode.A);
            window.begin("LC-0512", "counter-5v", "now");
            window.untilSays("load-state", "LOAD ON");
            bench.pull("load-1", "board");
            window.untilShown("verdict");
            window.untilSays("alarm", "LC-0512");
            window.untilSays("load-detail", "not confirmed");
            gallery.take(window, "faulted");
            window.key(KeyCode.F4);
            window.untilShown("runs");
            gallery.take(window, "alarm");
            window.key(KeyCode.F2);
            window.press("before-after");
            window.untilShown("trouble");
            gallery.take(window, "trouble");
        }
    }

    @Test
    void aQuestionThatIsAsked() throws Exception {
        Path rig = TroubledBench.handTurned(data.resolveSibling(data.getFileName() + "-hand-turned.toml"));
        TroubledBench bench = new TroubledBench();
        try (WindowBench window = window(rig.toString(), bench)) {
            window.begin("LC-2107", "counter-5v", "now");
            window.until("the line is to be turned", () -> {
                boolean asked = window.lookup("prompt") instanceof javafx.scene.control.Label prompt
                        && prompt.getText().startsWith("Line: ");
                if (asked) {
                    bench.hold();
                }
                return asked;
            });
            gallery.take(window, "prompt");
            bench.goOn();
            window.key(KeyCode.ESCAPE);
            window.untilShown("verdict");
            gallery.take(window, "stopped");
        } finally {
            Files.deleteIfExists(rig);
        }
    }

    private void start(WindowBench window) throws Exception {
        window.focused("serial");
        window.type("LC-2107");
        window.key(KeyCode.ENTER);
        window.focused("profile");
        window.choose("profile", "counter-5v");
        window.choose("fault", "reservoir-high-esr");
        WindowBench.onFx(() -> {
            ((javafx.scene.control.RadioButton) window.lookup("as-found")).setSelected(true);
            return true;
        });
        gallery.takeLarge(window, "start");
        window.key(KeyCode.ENTER);
        window.untilShown("start");
        gallery.take(window, "checklist");
    }

    private static String text(WindowBench window, String id) {
        return ((Labeled) window.lookup(id)).getText();
    }

    /** How many points are on the curve, of "6 of about 39 points". */
    private static int points(WindowBench window) {
        String left = text(window, "left");
        return Integer.parseInt(left.substring(0, left.indexOf(' ')));
    }

    private void run(WindowBench window, TroubledBench bench) throws Exception {
        window.tickEverything();
        window.key(KeyCode.ENTER);
        window.untilShown("now");
        window.until("a curve is being drawn under load", () -> {
            boolean drawn = text(window, "now").contains("load sweep")
                    && points(window) >= 6
                    && text(window, "load-state").equals("LOAD ON");
            if (drawn) {
                bench.hold();
            }
            return drawn;
        });
        gallery.takeLarge(window, "run", "output-now");
        bench.goOn();
        window.untilShown("verdict");
        window.untilSays("verdict", "FAIL");
        gallery.takeLarge(window, "verdict", "verdict");
        window.press("curves");
        window.untilShown("curve");
        gallery.take(window, "curves");
        window.press("back");
        window.untilShown("verdict");
    }

    private void rig(WindowBench window) throws Exception {
        Path calibrated = WindowBench.toBeCalibrated(data.resolve("bench.rig.toml"));
        window.key(KeyCode.F5);
        window.focused("rig-file");
        window.choose("rig-file", calibrated.toString());
        window.press("check-rig");
        window.untilSays("rig-verdict", "as they should be");
        gallery.take(window, "rig");
        window.calibrate();
        gallery.take(window, "calibration");
    }

    private void files(WindowBench window) throws Exception {
        window.key(KeyCode.F7);
        window.focused("file");
        window.type("counter-5v");
        window.press("open-file");
        window.focused("text");
        window.type("x");
        window.untilSays("file-state", "problem");
        gallery.take(window, "files");
        Files.deleteIfExists(Path.of("my-counter-5v.toml"));
    }

    private void wall(WindowBench window) throws Exception {
        window.key(KeyCode.F3);
        window.focused("serial");
        window.choose("profile", "counter-3rail");
        gallery.take(window, "burn-in-form");
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
        gallery.takeLarge(window, "wall");
        window.key(KeyCode.ESCAPE);
        window.untilSays("unit-1-state", "not complete");
        window.untilSays("unit-2-state", "not complete");
    }
}
