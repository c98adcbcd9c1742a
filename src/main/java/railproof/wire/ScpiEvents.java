package railproof.wire;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** The standard event status register (IEEE 488.2, 11.5.1). Thread: pure; any. */
final class ScpiEvents {
    private static final int QUERY_ERROR = 1 << 2;
    private static final int DEVICE_ERROR = 1 << 3;
    private static final int EXECUTION_ERROR = 1 << 4;
    private static final int COMMAND_ERROR = 1 << 5;
    private static final int POWER_ON = 1 << 7;

    private ScpiEvents() {}

    /** A reply as register bits; empty if it is no whole number of at most 16 bits. */
    static Optional<Integer> bits(String text) {
        return ScpiNumber.parse(text, "")
                .filter(OptionalDouble::isPresent)
                .map(OptionalDouble::getAsDouble)
                .filter(value -> value >= 0 && value <= 65535 && value == Math.rint(value))
                .map(Double::intValue);
    }

    static boolean powerOn(int bits) {
        return (bits & POWER_ON) != 0;
    }

    /** The error classes of the register, as the generic error of each class. */
    static List<ScpiError> errors(int bits) {
        List<ScpiError> errors = new ArrayList<>();
        add(errors, bits & COMMAND_ERROR, -100, "Command error");
        add(errors, bits & EXECUTION_ERROR, -200, "Execution error");
        add(errors, bits & DEVICE_ERROR, -300, "Device-specific error");
        add(errors, bits & QUERY_ERROR, -400, "Query error");
        return errors;
    }

    private static void add(List<ScpiError> errors, int bit, int code, String text) {
        if (bit != 0) {
            errors.add(new ScpiError(code, text));
        }
    }
}
