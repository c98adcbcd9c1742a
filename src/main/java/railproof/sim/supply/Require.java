package railproof.sim.supply;

import java.util.Locale;

/** Range checks for component values; each message names the field, the value and what is allowed. */
final class Require {
    private Require() {}

    static void positive(String field, double value) {
        if (!(value > 0) || Double.isInfinite(value)) {
            throw bad(field, value, "a finite number greater than 0");
        }
    }

    static void notNegative(String field, double value) {
        if (!(value >= 0) || Double.isInfinite(value)) {
            throw bad(field, value, "a finite number of 0 or more");
        }
    }

    static void within(String field, double value, double least, double most) {
        if (!(value >= least && value <= most)) {
            throw bad(field, value, String.format(Locale.ROOT, "%s to %s", least, most));
        }
    }

    private static IllegalArgumentException bad(String field, double value, String allowed) {
        return new IllegalArgumentException(String.format(Locale.ROOT, "%s is %s; allowed: %s", field, value, allowed));
    }
}
