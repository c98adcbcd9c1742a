package railproof.rig.file;

import java.util.Map;
import java.util.Optional;
import railproof.run.Quantity;

/**
 * A place on the bench where one rail can be connected: a load and the channels whose probes go to the rail.
 *
 * @param name as marked on the bench
 * @param load name of the load; no two positions have the same
 * @param loadRelay bit of the relay that connects the load here; empty if it is always connected
 * @param channels the channel of each quantity; {@link Quantity#OUTPUT} is always there
 */
public record PositionConfig(
        String name, String load, Optional<Integer> loadRelay, Map<Quantity, ChannelConfig> channels) {
    public PositionConfig {
        channels = Map.copyOf(channels);
    }

    /** The channel of a quantity; empty if no probe is foreseen for it here. */
    public Optional<ChannelConfig> channel(Quantity quantity) {
        return Optional.ofNullable(channels.get(quantity));
    }

    /** The channel at the rail's terminals. */
    public ChannelConfig output() {
        return channel(Quantity.OUTPUT)
                .orElseThrow(() -> new IllegalStateException("position " + name + " has no output channel"));
    }
}
