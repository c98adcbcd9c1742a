package railproof.instrument;

import java.util.Set;

/**
 * What the board says of itself.
 *
 * @param state its state
 * @param faults names of the latched faults ({@code HOST_SILENT}, {@code LIMIT_HIGH} …), empty if none
 * @param bootId changes at every reset; a change during a run ends the run
 * @param relays bit mask of relays energised, by read-back
 * @param loadEnabled whether load-enable is on, by read-back
 * @param inputs bit mask of digital inputs (interlocks)
 * @param ticks device clock
 */
public record BoardStatus(
        BoardState state, Set<String> faults, long bootId, int relays, boolean loadEnabled, int inputs, long ticks) {
    public BoardStatus {
        faults = Set.copyOf(faults);
    }
}
