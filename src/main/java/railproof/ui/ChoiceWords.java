package railproof.ui;

import java.util.function.Function;
import javafx.util.StringConverter;
import org.jspecify.annotations.Nullable;

/** Shows choices in words. They are chosen, never typed. */
final class ChoiceWords<T> extends StringConverter<T> {
    private final Function<T, String> words;

    ChoiceWords(Function<T, String> words) {
        this.words = words;
    }

    @Override
    public String toString(@Nullable T choice) {
        return choice == null ? "" : words.apply(choice);
    }

    @Override
    public T fromString(String text) {
        throw new UnsupportedOperationException("nothing is typed here");
    }
}
