package railproof.cli;

import java.io.IOException;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import railproof.rig.Operator;

/**
 * The person at the keyboard: questions on standard error, Enter as the answer. Reads on a daemon thread of its own
 * ({@code keyboard}) that is started by the first question.
 *
 * <p>Thread: questions from the control thread; answers from the keyboard's.
 */
final class KeyboardOperator implements Operator, AutoCloseable {
    private final Screen screen;
    private volatile String shown = "";
    private final AtomicReference<Optional<String>> answer = new AtomicReference<>(Optional.empty());
    private boolean listening;

    KeyboardOperator(Screen screen) {
        this.screen = screen;
    }

    @Override
    public void ask(String text) {
        answer.set(Optional.empty());
        if (!shown.equals(text)) {
            screen.say(">>> " + text);
        }
        shown = text;
        listen();
    }

    @Override
    public Optional<String> answer() {
        return answer.getAndSet(Optional.empty());
    }

    @Override
    public void withdraw() {
        shown = "";
        answer.set(Optional.empty());
    }

    private synchronized void listen() {
        if (listening) {
            return;
        }
        listening = true;
        Thread thread = new Thread(this::read, "keyboard");
        thread.setDaemon(true);
        thread.start();
    }

    private void read() {
        try {
            String line = screen.in().readLine();
            while (line != null) {
                if (!shown.isEmpty()) {
                    answer.set(Optional.of(line.strip()));
                }
                line = screen.in().readLine();
            }
        } catch (IOException e) {
            // no keyboard any more: the question stays unanswered and the bench's own timeout ends the run
            withdraw();
        }
    }

    @Override
    public void close() {
        withdraw();
    }
}
