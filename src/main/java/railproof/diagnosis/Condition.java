package railproof.diagnosis;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/** How a unit is loaded and fed while it is read. */
public enum Condition {
    /** No load, or the least the rail is specified at; nominal line. */
    NO_LOAD("without load", 0),
    /** Half the rated current, nominal line. */
    HALF_LOAD("at half load", 0.5),
    /** Rated current, nominal line. */
    FULL_LOAD("at full load", 1),
    /** Rated current, lowest line the unit must work at. */
    LOW_LINE("at full load and low line", 1),
    /** Rated current, highest line. */
    HIGH_LINE("at full load and high line", 1),
    /** Rated current, nominal line, the unit warm. */
    WARM("at full load, warm", 1);

    private final String words;
    private final double loadRatio;

    Condition(String words, double loadRatio) {
        this.words = words;
        this.loadRatio = loadRatio;
    }

    /** In a sentence: {@code at full load}. */
    public String words() {
        return words;
    }

    /** Load over rated current. */
    public double loadRatio() {
        return loadRatio;
    }

    /** As written in files: {@code full-load}. */
    public String label() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** The condition of that label. */
    public static Optional<Condition> ofLabel(String label) {
        return Arrays.stream(values()).filter(c -> c.label().equals(label)).findFirst();
    }
}
