package railproof.run;

import java.util.Optional;

/**
 * Which rail was loaded how while another was watched; the note of a point of {@link Section#CROSS_REGULATION}.
 *
 * @param aggressor the rail whose load was changed
 * @param high whether it stood at its high load
 */
public record CrossNote(String aggressor, boolean high) {
    private static final String LOW_END = " at low load";
    private static final String HIGH_END = " at full load";

    /** As written. */
    public String text() {
        return aggressor + (high ? HIGH_END : LOW_END);
    }

    /** Reads it back; empty if the note is something else. */
    public static Optional<CrossNote> of(String note) {
        if (note.endsWith(HIGH_END)) {
            return Optional.of(new CrossNote(note.substring(0, note.length() - HIGH_END.length()), true));
        }
        return note.endsWith(LOW_END)
                ? Optional.of(new CrossNote(note.substring(0, note.length() - LOW_END.length()), false))
                : Optional.empty();
    }
}
