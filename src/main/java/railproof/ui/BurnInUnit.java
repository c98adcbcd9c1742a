package railproof.ui;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Consumer;
import railproof.app.BurnInRequest;
import railproof.app.BurnInResult;
import railproof.app.BurnInService;
import railproof.app.ExitStatus;
import railproof.app.RunRequest;
import railproof.app.RunResult;
import railproof.base.BadFileException;
import railproof.procedure.BurnInProgress;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.Section;

/**
 * One unit being burnt in behind the window, with a rig, threads and a record of its own: what happens to it touches no
 * other.
 *
 * <p>Thread: any.
 */
final class BurnInUnit {
    private final BurnInRequest asked;
    private final RunRequest request;
    private final BurnInService service;
    private final RunStory story;
    private final WindowOperator operator;
    private final TrendLog trends = new TrendLog();
    private final Consumer<String> alarm;
    private volatile boolean paused;
    private volatile boolean begun;

    /**
     * Prepares a burn-in; opens nothing yet.
     *
     * @param alarm told in words of everything somebody should look at
     */
    BurnInUnit(BurnInRequest asked, Consumer<String> alarm) throws BadFileException {
        this.asked = asked;
        this.request = asked.run();
        this.service = new BurnInService(List.of(asked));
        this.story = RunStory.ofBurnIn(request.profile().profile());
        this.operator = new WindowOperator(story);
        this.alarm = words -> alarm.accept(unit() + ": " + words);
    }

    void start() {
        new Thread(this::run, "window-burn-in " + unit()).start();
    }

    @SuppressWarnings("IllegalCatch") // whatever ends this thread has to be said in the window
    private void run() {
        try {
            BurnInResult result =
                    service.run(unit -> operator, (unit, event) -> event(event)).get(0);
            result.trouble().ifPresent(trouble -> failed(trouble));
            if (result.run().isPresent()) {
                RunResult run = result.run().get();
                story.ended(run);
                judged(run);
                RunSession.archive(request, run).forEach(story::remarked);
            }
        } catch (Exception | Error e) {
            failed(e);
        }
    }

    /** What passed can wait until somebody comes by. */
    private void judged(RunResult run) {
        if (run.status() == ExitStatus.UNIT_FAILED || run.status() == ExitStatus.NOT_JUDGED) {
            alarm.accept("burn-in over, "
                    + run.judgement()
                            .map(judgement -> judgement.overall().words())
                            .orElse("not judged"));
        }
    }

    private void failed(Throwable trouble) {
        String words = String.join("\n", Aside.words(trouble));
        story.failed(words);
        alarm.accept(words);
    }

    private void event(RunEvent event) {
        story.accept(event);
        if (event instanceof RunEvent.PointTaken taken && taken.point().section() == Section.BURN_IN) {
            taken.point()
                    .reading(Quantity.OUTPUT)
                    .measured()
                    .ifPresent(output -> trends.add(taken.point().rail(), output.value()));
        } else if (event instanceof RunEvent.SectionStarted) {
            begun = true;
        } else if (event instanceof RunEvent.Note note && note.level() == RunEvent.Note.Level.WARNING) {
            // what is doubtful before the unit is touched, such as a missing calibration, stands on the tile
            if (begun) {
                alarm.accept(note.text());
            }
        } else if (event instanceof RunEvent.PromptShown prompt) {
            alarm.accept("asks: " + prompt.text());
        } else if (event instanceof RunEvent.RunEnded ended) {
            ended(ended.outcome());
        }
    }

    private void ended(RunOutcome outcome) {
        switch (outcome.safeState()) {
            case CONFIRMED -> {
                if (outcome.end() == RunOutcome.End.TRIPPED || outcome.end() == RunOutcome.End.FAULTED) {
                    alarm.accept(outcome.end().name().toLowerCase(Locale.ROOT) + ": " + outcome.cause());
                }
            }
            case COMMANDED, UNKNOWN ->
                alarm.accept("NOT CONFIRMED that load and line are off. Switch its mains off by hand, then look.");
        }
    }

    BurnInRequest asked() {
        return asked;
    }

    RunRequest request() {
        return request;
    }

    String unit() {
        return request.unitSerial();
    }

    RunView view() {
        return story.view();
    }

    TrendLog trends() {
        return trends;
    }

    Optional<BurnInProgress> progress() {
        return service.control().progress(unit());
    }

    boolean paused() {
        return paused;
    }

    /** Load and line go off soon and its time stands still, or it goes on. */
    void pause(boolean pause) {
        boolean done =
                pause ? service.control().pause(unit()) : service.control().goOn(unit());
        if (done) {
            paused = pause;
        }
    }

    void stop(String how) {
        story.stopping();
        service.control().stop(unit(), how);
    }

    void answer(String text) {
        operator.answered(text);
    }

    boolean over() {
        return view().phase() == RunView.Phase.ENDED;
    }

    boolean simulated() {
        return request.rig().config().simulation().isPresent();
    }

    ExitStatus status() {
        return view().result().map(RunResult::status).orElse(ExitStatus.RIG_TROUBLE);
    }
}
