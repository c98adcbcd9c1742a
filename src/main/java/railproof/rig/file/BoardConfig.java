package railproof.rig.file;

import java.time.Duration;
import java.util.List;
import java.util.Optional;

/**
 * The measuring board.
 *
 * @param link name of its link
 * @param serialNumber the serial number it must answer with; empty if any will do
 * @param heartbeatTimeout silence of the host after which the board makes itself safe
 * @param lineRelay bit of the relay that feeds the line to the unit; empty if there is none
 * @param channels analogue inputs in use, no input twice
 */
public record BoardConfig(
        String link,
        Optional<String> serialNumber,
        Duration heartbeatTimeout,
        Optional<Integer> lineRelay,
        List<ChannelConfig> channels) {
    /** Most analogue inputs, relays and digital inputs a board can have: they travel as 32-bit masks. */
    public static final int MAX_BITS = 32;

    public BoardConfig {
        channels = List.copyOf(channels);
    }

    /** How many analogue inputs the board must at least have. */
    public int inputsNeeded() {
        return 1 + channels.stream().mapToInt(ChannelConfig::input).max().orElse(-1);
    }
}
