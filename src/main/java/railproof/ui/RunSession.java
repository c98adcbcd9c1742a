package railproof.ui;

import java.util.List;
import java.util.Optional;
import railproof.app.Archiving;
import railproof.app.BenchAccess;
import railproof.app.ExitStatus;
import railproof.app.RunRequest;
import railproof.app.RunResult;
import railproof.app.RunService;
import railproof.base.BadFileException;

/**
 * One run behind the window, on a thread of its own ({@code window-run}).
 *
 * <p>Thread: any.
 */
final class RunSession implements BenchWork {
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

    RunView view() {
        return story.view();
    }

    void answer(String text) {
        operator.answered(text);
    }

    @Override
    public String words() {
        return "the test of unit " + request.unitSerial();
    }

    @Override
    public void stop(String how) {
        story.stopping();
        service.stop(how);
    }

    @Override
    public boolean over() {
        return view().phase() == RunView.Phase.ENDED;
    }

    @Override
    public Power power() {
        return Power.of(view());
    }

    @Override
    public String wants() {
        return view().prompt();
    }

    @Override
    public boolean simulated() {
        return bench.simulated();
    }

    @Override
    public ExitStatus status() {
        return view().result().map(RunResult::status).orElse(ExitStatus.RIG_TROUBLE);
    }

    @SuppressWarnings("IllegalCatch") // whatever ends this thread has to be said in the window
    private void run() {
        try {
            RunResult result = service.run(operator, story);
            story.ended(result);
            archive(request, result).forEach(story::remarked);
        } catch (Exception | Error e) {
            story.failed(String.join("\n", Aside.words(e)));
        }
    }

    /** Takes a run into its rig's archive; what goes wrong there is caught up later. */
    static List<String> archive(RunRequest request, RunResult result) throws BadFileException {
        return new Archiving(
                        request.dataDirectory(),
                        Archiving.address(
                                Optional.empty(), request.rig().config().archiveUrl(), request.dataDirectory()))
                .changed(result.folder());
    }
}
