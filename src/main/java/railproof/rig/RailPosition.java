package railproof.rig;

import java.time.Duration;
import java.util.Map;
import railproof.instrument.ElectronicLoad;
import railproof.run.Quantity;

/**
 * One rail of the unit as connected to the rig.
 *
 * @param rail the rail's name in the profile
 * @param load the load on it
 * @param loadRelayMask board relay that connects the load to the rail; 0 if it is always connected
 * @param channels board channels on its nodes; always has {@link Quantity#OUTPUT}
 * @param loadAccuracy what is known of the load's current measurement, A
 * @param loadSettle time after a new level before the load can be trusted
 * @param loadMinimumV below this terminal voltage the load cannot take its full current, V
 */
public record RailPosition(
        String rail,
        ElectronicLoad load,
        int loadRelayMask,
        Map<Quantity, Channel> channels,
        Accuracy loadAccuracy,
        Duration loadSettle,
        double loadMinimumV) {
    public RailPosition {
        channels = Map.copyOf(channels);
        if (!channels.containsKey(Quantity.OUTPUT)) {
            throw new IllegalArgumentException("position of " + rail + " has no channel on its output");
        }
    }

    /** The channel on the output terminals. */
    public Channel output() {
        Channel channel = channels.get(Quantity.OUTPUT);
        if (channel == null) {
            throw new IllegalStateException("checked at construction");
        }
        return channel;
    }
}
