package railproof.toml;

import java.util.Optional;
import java.util.function.Consumer;

/** Reads one element of a list, or says what is wrong with it. */
@FunctionalInterface
interface ElementReader<T> {
    Optional<T> read(Object element, Consumer<String> problem);
}
