package railproof.toml;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;

/**
 * Labels of closed sets in files.
 *
 * <p>Thread: pure; any thread.
 */
public final class Labels {
    private Labels() {}

    /** The constants by label, in order; {@code CONSTANT_CURRENT} is written {@code constant-current}. */
    public static <E extends Enum<E>> Map<String, E> of(E[] constants) {
        Map<String, E> labels = new LinkedHashMap<>();
        for (E constant : constants) {
            labels.put(constant.name().toLowerCase(Locale.ROOT).replace('_', '-'), constant);
        }
        return Collections.unmodifiableMap(labels);
    }
}
