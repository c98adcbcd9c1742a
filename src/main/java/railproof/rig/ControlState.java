package railproof.rig;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.Map;
import java.util.Set;

/** Where the control thread stands in a run. The legal moves are this table and nothing else. */
public enum ControlState {
    /** Nothing connected yet. */
    IDLE,
    /** Instruments connected, everything off. */
    CONNECTED,
    /** Board armed; the unit may be energised. */
    RUNNING,
    /** Everything being switched off. */
    MAKING_SAFE,
    /** The end. */
    DONE;

    private static final Map<ControlState, Set<ControlState>> MOVES = new EnumMap<>(Map.of(
            IDLE, EnumSet.of(CONNECTED, MAKING_SAFE),
            CONNECTED, EnumSet.of(RUNNING, MAKING_SAFE),
            RUNNING, EnumSet.of(MAKING_SAFE),
            MAKING_SAFE, EnumSet.of(DONE),
            DONE, EnumSet.noneOf(ControlState.class)));

    /** Whether the move is legal. */
    boolean mayBecome(ControlState next) {
        Set<ControlState> moves = MOVES.get(this);
        return moves != null && moves.contains(next);
    }
}
