package railproof.rig;

/**
 * A switch that must be closed while anything is on.
 *
 * @param name what it is, for messages
 * @param input bit of the board's digital inputs; 1 means closed
 * @param emergencyStop whether it is an emergency stop that somebody pressed, not a cover that stands open
 */
public record Interlock(String name, int input, boolean emergencyStop) {
    /** Whether it is open, by the board's digital inputs. */
    boolean open(int inputs) {
        return (inputs >> input & 1) == 0;
    }

    /** That it is open, in words. */
    String words() {
        return emergencyStop
                ? "emergency stop pressed: \"" + name + "\" (input " + input + ")"
                : "interlock open: \"" + name + "\" (input " + input + ")";
    }
}
