package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javafx.scene.control.Labeled;
import javafx.scene.control.TableView;
import javafx.scene.input.KeyCode;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.rig.file.BuiltInFiles;
import railproof.run.Stage;

/**
 * Every screen in both themes and at several sizes: pictures to be looked at, and on each screen a name for every
 * control, no words cut off or over one another, and what has to be read across the room large enough for it.
 */
@Tag("window")
class WindowPicturesTest {
    private static final List<Size> USUAL = List.of(new Size(1024, 768), new Size(1920, 1080));
    private static final List<Size> ALL = List.of(USUAL.get(0), USUAL.get(1), new Size(3840, 2160));

    /**
     * Capitals of at least 16 minutes of arc (ISO 9241-303, legibility; from memory) from two metres: 9.3 mm, on the
     * 299 mm of height of a screen of 24 inches.
     */
    private static final double ACROSS_THE_ROOM_RATIO = 2000 * Math.toRadians(16.0 / 60) / 299;

    @TempDir
    private Path data = Path.of("");

    private final List<String> nameless = new ArrayList<>();
    private final List<String> cut = new ArrayList<>();
    private final List<String> small = new ArrayList<>();

    private record Size(int widthPx, int heightPx) {}

    @AfterEach
    void everythingHasANameAndCanBeRead() {
        assertEquals(List.of(), nameless, "controls without a name for a screen reader");
        assertEquals(List.of(), cut, "words that are cut off");
        assertEquals(List.of(), small, "what is too small to be read across the room");
    }

    /** Pictures of what is shown, in both themes at all sizes. */
    private void all(WindowBench window, String name, List<Size> sizes, String... acrossTheRoom) throws Exception {
        for (Size size : sizes) {
            window.resize(size.widthPx(), size.heightPx());
            for (String theme : List.of("light", "dark")) {
                String picture = name + "-" + theme + "-" + size.widthPx();
                window.picture("screens/" + picture);
                window.look(NodeWalk::nameless).forEach(each -> nameless.add(picture + ": " + each));
                window.look(NodeWalk::cutOff).forEach(each -> cut.add(picture + ": " + each));
                if (size.widthPx() >= 1920) {
                    for (String id : acrossTheRoom) {
                        double ratio = window.look(root -> NodeWalk.capitalsRatio(root, id));
                        if (ratio < ACROSS_THE_ROOM_RATIO) {
                            small.add(picture + ": #" + id + " " + ratio);
                        }
                    }
                }
                window.key(KeyCode.F6);
            }
        }
        window.resize(USUAL.get(0).widthPx(), USUAL.get(0).heightPx());
    }

    private void all(WindowBench window, String name) throws Exception {
        all(window, name, USUAL, "load-state", "line-state");
    }

    private WindowBench window(String rig, Shell.BenchSource benches) throws Exception {
        return new WindowBench(new WindowSettings(rig, data, "m. k.", Optional.empty()), benches, 1024, 768);
    }

    @Test
    void everyScreenFromTheSerialNumberToTheSignOff() throws Exception {
        Benchwork.dictionary(data, "counter-5v");
        TroubledBench bench = new TroubledBench();
        try (WindowBench window = window("simulated-bench", bench)) {
            start(window);
            run(window, bench);
            Benchwork.test(data, "counter-5v", "LC-2107", Stage.AS_LEFT, Optional.empty());
            records(window);
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
            all(window, "second-step");
            window.press("checklist-back");
            window.focused("serial");
            window.key(KeyCode.CONTROL, KeyCode.A);
            window.begin("LC-0512", "counter-5v", "now");
            window.untilSays("load-state", "LOAD ON");
            bench.pull("load-1", "board");
            window.untilShown("verdict");
            window.untilSays("alarm", "LC-0512");
            window.untilSays("load-detail", "not confirmed");
            all(window, "faulted");
            window.key(KeyCode.F4);
            window.untilShown("runs");
            all(window, "alarm");
            window.key(KeyCode.F2);
            window.press("before-after");
            window.untilShown("trouble");
            all(window, "trouble");
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
            all(window, "prompt");
            bench.goOn();
            window.key(KeyCode.ESCAPE);
            window.untilShown("verdict");
            all(window, "stopped");
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
        all(window, "start", ALL, "load-state", "line-state");
        window.key(KeyCode.ENTER);
        window.untilShown("start");
        all(window, "checklist");
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
        all(window, "run", ALL, "load-state", "line-state", "output-now");
        bench.goOn();
        window.untilShown("verdict");
        window.untilSays("verdict", "FAIL");
        all(window, "verdict", ALL, "load-state", "line-state", "verdict");
        window.press("curves");
        window.untilShown("curve");
        all(window, "curves");
        window.press("back");
        window.untilShown("verdict");
        window.press("diagnose");
        window.untilSays("conclusion", "reservoir");
        all(window, "diagnosis");
        window.press("back");
        window.untilShown("verdict");
    }

    private void rig(WindowBench window) throws Exception {
        Path calibrated = data.resolve("bench.rig.toml");
        Files.writeString(
                calibrated,
                BuiltInFiles.rig("simulated-bench")
                        .source()
                        .text()
                        .replaceFirst("(?m)^title = ", "calibration_file = \"bench.calibration.toml\"\ntitle = "));
        window.key(KeyCode.F5);
        window.focused("rig-file");
        window.choose("rig-file", calibrated.toString());
        window.press("check-rig");
        window.untilSays("rig-verdict", "as they should be");
        all(window, "rig");
        window.tabTo("reference");
        window.type("METER 34 NO 7");
        window.tabTo("reference-u");
        window.type("0.003 % + 0.0002");
        window.press("calibrate");
        window.untilSays("calibration-lines", "Calibrated:");
        all(window, "calibration");
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
        all(window, "wall", ALL, "load-state", "line-state");
        window.key(KeyCode.ESCAPE);
        window.untilSays("unit-1-state", "not complete");
        window.untilSays("unit-2-state", "not complete");
    }
}
