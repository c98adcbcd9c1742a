package railproof.wire;

import java.util.OptionalLong;
import java.util.function.Consumer;

/**
 * The device at the far end of a link, as seen from the cable. Implemented by simulated devices; driven by a
 * {@link MemoryLink}, or by a pump over a real port.
 *
 * <p>Thread: the driver calls it from one thread at a time.
 */
@FunctionalInterface
public interface Peer {
    /**
     * Bytes arrive, at the instant last given to {@link #advanceTo}.
     *
     * @param bytes what arrived, in any portion
     * @param reply takes what the device sends now; may be called any number of times
     */
    void receive(byte[] bytes, Consumer<byte[]> reply);

    /**
     * Time has come to {@code nowNs} of the link's clock; never earlier than before. What the device does by itself
     * up to then (time-outs, samples, late replies) it does here, in order.
     *
     * @param nowNs now, ns
     * @param reply takes what the device sends by itself
     */
    default void advanceTo(long nowNs, Consumer<byte[]> reply) {}

    /**
     * The next instant at which the device may have something to say without being spoken to, ns of the link's clock;
     * empty if there is none. Too early is allowed; too late delays what it says.
     */
    default OptionalLong nextEventNs() {
        return OptionalLong.empty();
    }
}
