package railproof.rig.file;

/**
 * One analogue input of the board.
 *
 * @param name its name in the rig file
 * @param input the board's index of it, from 0
 * @param range its scale and accuracy
 */
public record ChannelConfig(String name, int input, InputRange range) {}
