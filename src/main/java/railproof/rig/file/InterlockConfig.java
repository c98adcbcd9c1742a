package railproof.rig.file;

/**
 * A switch that must be closed while anything is on: a cover, an emergency stop.
 *
 * @param name what it is, for messages
 * @param input bit of the board's digital inputs; 1 means closed
 * @param emergencyStop whether it is an emergency stop
 */
public record InterlockConfig(String name, int input, boolean emergencyStop) {}
