package railproof.ui;

import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;
import railproof.rig.Glance;
import railproof.rig.Operator;

/**
 * The person in front of the window.
 *
 * <p>Thread: asked by the control thread, answered from the window's.
 */
final class WindowOperator implements Operator {
    private final RunStory story;
    private final AtomicReference<Optional<String>> answer = new AtomicReference<>(Optional.empty());

    WindowOperator(RunStory story) {
        this.story = story;
    }

    @Override
    public void ask(String text) {
        if (!story.view().prompt().equals(text)) {
            answer.set(Optional.empty());
            story.asks(text);
        }
    }

    @Override
    public void tell(String text) {
        answer.set(Optional.empty());
        if (!story.view().prompt().equals(text)) {
            story.tells(text);
        }
    }

    @Override
    public Optional<String> answer() {
        return answer.getAndSet(Optional.empty());
    }

    @Override
    public void withdraw() {
        answer.set(Optional.empty());
        story.tells("");
    }

    @Override
    public void sees(Glance glance) {
        story.sees(glance);
    }

    /** The answer typed or clicked; without a question it goes nowhere. */
    void answered(String text) {
        if (story.view().answerable()) {
            answer.set(Optional.of(text));
        }
    }
}
