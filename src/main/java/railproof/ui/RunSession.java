package railproof.ui;

import railproof.app.BenchAccess;
import railproof.app.RunRequest;
import railproof.app.RunService;
import railproof.base.BadFileException;
import railproof.record.RecordException;
import railproof.wire.LinkException;

/**
 * One run behind the window, on a thread of its own ({@code window-run}).
 *
 * <p>Thread: {@link #stop} and {@link #view} from any.
 */
final class RunSession {
    private final RunRequest request;
    private final BenchAccess bench;
    private final RunService service;
    private final RunStory story;
    private final WindowOperator operator;
    private final Thread thread;

    /**
     * Prepares a run; opens nothing yet.
     *
     * @throws BadFileException if the rig's calibration file cannot be used
     */
    RunSession(RunRequest request, BenchAccess bench) throws BadFileException {
        this.request = request;
        this.bench = bench;
        this.service = new RunService(request, bench);
        this.story = new RunStory(request.profile().profile());
        this.operator = new WindowOperator(story);
        this.thread = new Thread(this::run, "window-run");
    }

    void start() {
        thread.start();
    }

    RunRequest request() {
        return request;
    }

    BenchAccess bench() {
        return bench;
    }

    RunView view() {
        return story.view();
    }

    /** Ends the run as soon as possible; the load goes off first. */
    void stop(String how) {
        story.stopping();
        service.stop(how);
    }

    void answer(String text) {
        operator.answered(text);
    }

    boolean over() {
        return !thread.isAlive() && view().phase() == RunView.Phase.ENDED;
    }

    @SuppressWarnings("IllegalCatch") // whatever ends this thread has to be said in the window
    private void run() {
        try {
            story.ended(service.run(operator, story));
        } catch (LinkException e) {
            story.failed("Rig: " + e.getMessage());
        } catch (RecordException e) {
            story.failed("Record: " + e.getMessage());
        } catch (BadFileException e) {
            story.failed(String.valueOf(e.getMessage()));
        } catch (RuntimeException | Error e) {
            System.getLogger("railproof.ui").log(System.Logger.Level.DEBUG, "unexpected trouble", e);
            story.failed("This is a mistake in the program, please report it: " + e);
        }
    }
}
