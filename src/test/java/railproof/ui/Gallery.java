package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import javafx.scene.input.KeyCode;

/**
 * Pictures of screens in both themes and at several sizes, to be looked at; and on each screen a name for every control,
 * no words cut off or over one another, and what has to be read across the room large enough for it.
 */
final class Gallery {
    private static final List<Size> USUAL = List.of(new Size(1024, 768), new Size(1920, 1080));
    private static final List<Size> LARGE = List.of(USUAL.get(0), USUAL.get(1), new Size(3840, 2160));

    /**
     * Capitals of at least 16 minutes of arc (ISO 9241-303, legibility; from memory) from two metres: 9.3 mm, on the
     * 299 mm of height of a screen of 24 inches.
     */
    private static final double ACROSS_THE_ROOM_RATIO = 2000 * Math.toRadians(16.0 / 60) / 299;

    private final List<String> nameless = new ArrayList<>();
    private final List<String> cut = new ArrayList<>();
    private final List<String> small = new ArrayList<>();

    private record Size(int widthPx, int heightPx) {}

    /** At the usual sizes. */
    void take(WindowBench window, String name) throws Exception {
        take(window, name, USUAL);
    }

    /**
     * On the largest screen too.
     *
     * @param acrossTheRoom labels that must be read from there, besides load and line
     */
    void takeLarge(WindowBench window, String name, String... acrossTheRoom) throws Exception {
        take(window, name, LARGE, acrossTheRoom);
    }

    private void take(WindowBench window, String name, List<Size> sizes, String... acrossTheRoom) throws Exception {
        List<String> read = new ArrayList<>(List.of("load-state", "line-state"));
        read.addAll(List.of(acrossTheRoom));
        for (Size size : sizes) {
            window.resize(size.widthPx(), size.heightPx());
            for (String theme : List.of("light", "dark")) {
                String picture = name + "-" + theme + "-" + size.widthPx();
                window.picture("screens/" + picture);
                window.look(NodeWalk::nameless).forEach(each -> nameless.add(picture + ": " + each));
                window.look(NodeWalk::cutOff).forEach(each -> cut.add(picture + ": " + each));
                for (String id : size.widthPx() < 1920 ? List.<String>of() : read) {
                    double ratio = window.look(root -> NodeWalk.capitalsRatio(root, id));
                    if (ratio < ACROSS_THE_ROOM_RATIO) {
                        small.add(picture + ": #" + id + " " + ratio);
                    }
                }
                window.key(KeyCode.F6);
            }
        }
        window.resize(USUAL.get(0).widthPx(), USUAL.get(0).heightPx());
    }

    void everythingHasANameAndCanBeRead() {
        assertEquals(List.of(), nameless, "controls without a name for a screen reader");
        assertEquals(List.of(), cut, "words that are cut off");
        assertEquals(List.of(), small, "what is too small to be read across the room");
    }
}
