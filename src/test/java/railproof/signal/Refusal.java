package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.function.Executable;

/** What a figure that makes no sense is refused with. */
final class Refusal {
    private Refusal() {}

    static String of(Executable call) {
        return String.valueOf(assertThrows(IllegalArgumentException.class, call).getMessage());
    }
}
