package railproof.ui;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import railproof.app.RunRequest;
import railproof.base.BadFileException;
import railproof.profile.Profile;
import railproof.run.RunOutcome;

/** A test from the serial number to the verdict. Thread: JavaFX application thread. */
final class TestFlow {
    private final Window window;
    private final NextSteps steps;
    /** As it was filled in last, for whoever goes back to it. */
    private Optional<StartPane> form = Optional.empty();

    TestFlow(Window window, NextSteps steps) {
        this.window = window;
        this.steps = steps;
    }

    /** Where it begins. */
    void start() {
        StartPane empty = new StartPane(window.settings(), this::checklist, this::meterOnly);
        form = Optional.of(empty);
        window.put(Place.TEST, empty);
    }

    private void back() {
        form.ifPresentOrElse(filled -> window.put(Place.TEST, filled), this::start);
    }

    private void meterOnly(Profile type) {
        window.put(Place.TEST, new DiagnosisPane(type, window, this::back));
    }

    private void checklist(RunRequest request) {
        window.put(Place.TEST, new ChecklistPane(request, () -> begin(request), this::back));
    }

    private void begin(RunRequest request) {
        try {
            RunSession session = new RunSession(request, window.bench(request));
            String refusal = window.take(session, () -> ended(session));
            if (!refusal.isEmpty()) {
                trouble(List.of(refusal), request);
                return;
            }
            window.put(Place.TEST, new RunPane(session));
            session.start();
        } catch (BadFileException e) {
            trouble(Aside.words(e), request);
        }
    }

    private void trouble(List<String> problems, RunRequest request) {
        window.put(Place.TEST, new TroublePane(problems, () -> checklist(request)));
    }

    private void ended(RunSession session) {
        RunRequest request = session.request();
        RunView view = session.view();
        Optional<KeptRun> kept = view.result().map(result -> KeptRun.of(result, request.profile()));
        VerdictPane.Next onward = new VerdictPane.Next("next-unit", "Next unit  (Enter)", this::start);
        VerdictPane.Next again = new VerdictPane.Next("again", "Same unit again", () -> checklist(request));
        steps.verdict(Place.TEST, kept, view.trouble(), onward, List.of(again));
        view.outcome()
                .filter(outcome -> outcome.end() != RunOutcome.End.COMPLETED && outcome.end() != RunOutcome.End.STOPPED)
                .ifPresent(outcome -> window.alarm("Unit " + request.unitSerial() + ": the test "
                        + outcome.end().name().toLowerCase(Locale.ROOT) + ": " + outcome.cause()));
    }
}
