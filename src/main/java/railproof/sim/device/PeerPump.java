package railproof.sim.device;

import java.util.Arrays;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import railproof.base.Clock;
import railproof.wire.Link;
import railproof.wire.LinkException;
import railproof.wire.Peer;

/**
 * Runs a simulated device in real time behind a real port: reads the port, hands the bytes over, writes what the device
 * says.
 *
 * <p>Thread: the caller's, until told to stop.
 */
public final class PeerPump {
    private static final long SLICE_NS = TimeUnit.MILLISECONDS.toNanos(20);

    private PeerPump() {}

    /**
     * Serves the device until {@code stop} says so; looks at least every 20 ms.
     *
     * @throws LinkException if the port is gone
     */
    public static void run(Link port, Peer peer, BooleanSupplier stop) throws LinkException, InterruptedException {
        Clock clock = port.clock();
        byte[] buffer = new byte[8192];
        LinkException[] trouble = new LinkException[1];
        Consumer<byte[]> reply = bytes -> {
            try {
                port.write(bytes);
            } catch (LinkException e) {
                trouble[0] = e;
            }
        };
        while (!stop.getAsBoolean()) {
            long dueNs = peer.nextEventNs().orElse(Long.MAX_VALUE) - clock.nowNs();
            int count = port.read(buffer, Math.max(0, Math.min(SLICE_NS, dueNs)));
            peer.advanceTo(clock.nowNs(), reply);
            if (count > 0) {
                peer.receive(Arrays.copyOf(buffer, count), reply);
            }
            if (trouble[0] != null) {
                throw trouble[0];
            }
        }
    }
}
