package railproof.ui;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.function.Consumer;
import railproof.archive.ArchivedRun;
import railproof.run.Stage;

/** What can follow a verdict, wherever it is shown. Thread: JavaFX application thread. */
final class NextSteps {
    private final Window window;
    private final BurnInPane wall;

    NextSteps(Window window, BurnInPane wall) {
        this.window = window;
        this.wall = wall;
    }

    /** Shows what came of a run, with everything that can be done next. */
    void verdict(
            Place place, Optional<KeptRun> kept, String trouble, VerdictPane.Next main, List<VerdictPane.Next> others) {
        List<VerdictPane.Next> next = new ArrayList<>(others);
        Runnable back = () -> verdict(place, kept, trouble, main, others);
        kept.ifPresent(run -> next.addAll(of(run, place, back)));
        window.put(place, new VerdictPane(kept, trouble, main, next));
    }

    private List<VerdictPane.Next> of(KeptRun run, Place place, Runnable back) {
        List<VerdictPane.Next> next = new ArrayList<>();
        if (run.run().header().stage() == Stage.AS_LEFT) {
            next.add(new VerdictPane.Next(
                    "sign-off", "Sign off", () -> window.put(place, new SignOffPane(run, window, back))));
        }
        next.add(new VerdictPane.Next(
                "diagnose", "Diagnose", () -> window.put(place, new DiagnosisPane(run, window, back))));
        next.add(new VerdictPane.Next("burn-in", "Burn in", () -> {
            wall.fill(run);
            window.go(Place.BURN_IN);
        }));
        next.add(new VerdictPane.Next(
                "curves", "Curves", () -> window.put(place, new OverlayPane(run, Optional.empty(), back))));
        next.add(new VerdictPane.Next("before-after", "Before and after", () -> beforeAndAfter(run, place, back)));
        return next;
    }

    /** The unit's last as-found run under this one. */
    private void beforeAndAfter(KeptRun run, Place place, Runnable back) {
        read(
                place,
                "Looking for the last as-found run of unit " + run.unit() + " …",
                () -> Earlier.asFound(window.archiving(), run),
                back,
                before -> {
                    if (before.isPresent()) {
                        window.put(place, new OverlayPane(run, before, back));
                    } else {
                        window.put(
                                place,
                                new TroublePane(
                                        List.of("There is no as-found run of unit " + run.unit()
                                                + " and its type in the archive. In History (F4), mark any run as before"
                                                + " with Space, then compare another one with it."),
                                        back));
                    }
                });
    }

    /** Shows an archived run in the history's place. */
    void open(ArchivedRun archived, Runnable back) {
        read(
                Place.HISTORY,
                "Reading " + archived.folder() + " …",
                () -> KeptRun.read(Path.of(archived.folder())),
                back,
                run -> verdict(
                        Place.HISTORY,
                        Optional.of(run),
                        "",
                        new VerdictPane.Next("back", "Back to the list  (Enter)", back),
                        List.of()));
    }

    /** Shows two archived runs over one another in the history's place. */
    void compare(ArchivedRun before, ArchivedRun after, Runnable back) {
        read(
                Place.HISTORY,
                "Reading both runs …",
                () -> List.of(KeptRun.read(Path.of(before.folder())), KeptRun.read(Path.of(after.folder()))),
                back,
                runs -> window.put(Place.HISTORY, new OverlayPane(runs.get(1), Optional.of(runs.get(0)), back)));
    }

    private <T> void read(Place place, String words, Callable<T> work, Runnable back, Consumer<T> done) {
        window.put(place, new WaitPane(words));
        Aside.run(work, done, lines -> window.put(place, new TroublePane(lines, back)));
    }
}
