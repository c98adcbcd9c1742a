package railproof.ui;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.LinkedBlockingQueue;
import railproof.app.Calibrator;
import railproof.app.ExitStatus;
import railproof.base.BadFileException;
import railproof.record.RecordException;
import railproof.wire.LinkException;

/**
 * A look over the rig, or a calibration: both switch everything off first and nothing on. Runs on a thread of its own
 * ({@code window-rig}).
 *
 * <p>Thread: any.
 */
final class RigWork implements BenchWork, Calibrator {
    private final String words;
    private final boolean simulated;
    private final Task task;
    private final Thread thread;
    private final BlockingQueue<String> answers = new LinkedBlockingQueue<>();
    private final List<String> lines = new ArrayList<>();
    private String prompt = "";
    private boolean over;
    private boolean stopped;
    private ExitStatus status = ExitStatus.RIG_TROUBLE;

    /** What is done. */
    @FunctionalInterface
    interface Task {
        /**
         * Does it.
         *
         * @param operator who is asked, and shown what happens
         * @return what it came to
         */
        ExitStatus run(Calibrator operator)
                throws BadFileException, LinkException, RecordException, InterruptedException;
    }

    RigWork(String words, boolean simulated, Task task) {
        this.words = words;
        this.simulated = simulated;
        this.task = task;
        this.thread = new Thread(this::run, "window-rig");
    }

    void start() {
        thread.start();
    }

    @SuppressWarnings("IllegalCatch") // whatever ends this thread has to be said in the window
    private void run() {
        ExitStatus came = ExitStatus.RIG_TROUBLE;
        try {
            came = task.run(this);
        } catch (InterruptedException e) {
            show("stopped");
        } catch (Exception | Error e) {
            Aside.words(e).forEach(this::show);
        }
        synchronized (this) {
            prompt = "";
            status = came;
            over = true;
        }
    }

    /** An answer typed; without a question it goes nowhere. */
    synchronized void answer(String text) {
        if (!prompt.isEmpty()) {
            prompt = "";
            answers.add(text);
        }
    }

    /** What was shown so far. */
    synchronized List<String> lines() {
        return List.copyOf(lines);
    }

    @Override
    public OptionalDouble reading(Step step, String channel, double level, String unit) {
        ask(step.words(channel, level, unit));
        while (true) {
            String answer;
            try {
                answer = answers.take().strip().replace(',', '.');
            } catch (InterruptedException e) {
                // stopped: as if given up; the flag says so to whoever waits next
                Thread.currentThread().interrupt();
                return OptionalDouble.empty();
            }
            if (answer.isEmpty()) {
                return OptionalDouble.empty();
            }
            try {
                double value = Double.parseDouble(answer);
                if (Double.isFinite(value)) {
                    return OptionalDouble.of(value);
                }
            } catch (NumberFormatException e) {
                // said in the next question
                answers.clear();
            }
            ask("\"" + answer + "\" is no number in " + unit + ". " + step.words(channel, level, unit));
        }
    }

    private synchronized void ask(String question) {
        prompt = question;
    }

    @Override
    public synchronized void show(String line) {
        lines.add(line);
    }

    @Override
    public String words() {
        return words;
    }

    @Override
    public synchronized void stop(String how) {
        stopped = true;
        thread.interrupt();
    }

    @Override
    public synchronized boolean over() {
        return over;
    }

    @Override
    public synchronized Power power() {
        return over
                ? Power.IDLE
                : Power.off(
                        "kept off",
                        stopped ? "Stopping …" : "Everything is switched off first, nothing on. Escape ends it.",
                        !stopped);
    }

    @Override
    public synchronized String wants() {
        return prompt;
    }

    @Override
    public boolean simulated() {
        return simulated;
    }

    @Override
    public synchronized ExitStatus status() {
        return status;
    }
}
