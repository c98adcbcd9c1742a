package railproof.sim;

import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalLong;
import java.util.TreeMap;
import java.util.function.BooleanSupplier;
import org.jspecify.annotations.Nullable;
import railproof.wire.Link;
import railproof.wire.LinkDownException;
import railproof.wire.LinkException;
import railproof.wire.Peer;

/**
 * Serves a simulated bench over real ports in lockstep with a program elsewhere: simulated time moves only when that
 * program says so, on a line of its own, so that a run over serial ports gives the same numbers as one in memory.
 *
 * <p>Text lines on the time line, ended by LF. The other side asks
 *
 * <pre>{@code step <until ns> <link or -> <link>=<bytes written>/<bytes read> ...}</pre>
 *
 * <p>The server first takes in every byte written so far; then, unless the named link has sent something that was not
 * read yet, it lets time pass to the link's next event, at most to the instant given; and answers
 *
 * <pre>{@code now <ns> <link>=<bytes sent> ...}</pre>
 *
 * <p>Thread: confined to the caller of {@link #serve}.
 */
public final class LockstepServer {
    private static final long LOOK_NS = 50_000_000L;
    private static final long LOST_BYTES_NS = 5_000_000_000L;

    private final SimulatedBench bench;
    private final Link timeLine;
    private final Map<String, Port> ports = new TreeMap<>();
    private long nowNs;

    /** One port and the device behind it. */
    private static final class Port {
        final Link link;
        final Peer peer;
        long received;
        long sent;

        @Nullable
        LinkException trouble;

        Port(Link link, Peer peer) {
            this.link = link;
            this.peer = peer;
        }

        void send(byte[] bytes) {
            try {
                link.write(bytes);
                sent += bytes.length;
            } catch (LinkException e) {
                trouble = e;
            }
        }
    }

    /** A server with no ports yet. */
    public LockstepServer(SimulatedBench bench, Link timeLine) {
        this.bench = bench;
        this.timeLine = timeLine;
    }

    /** Serves a device on a port. */
    public void attach(Link link, Peer peer) {
        ports.put(link.name(), new Port(link, peer));
    }

    /**
     * Serves until told to stop.
     *
     * @throws LinkException if a port is gone, or bytes that were announced do not come
     */
    public void serve(BooleanSupplier stop) throws LinkException, InterruptedException {
        ByteArrayOutputStream line = new ByteArrayOutputStream();
        byte[] buffer = new byte[4096];
        while (!stop.getAsBoolean()) {
            int count = timeLine.read(buffer, LOOK_NS);
            for (int i = 0; i < count; i++) {
                if (buffer[i] == '\n') {
                    String reply = step(line.toString(StandardCharsets.US_ASCII));
                    line.reset();
                    timeLine.write(reply.getBytes(StandardCharsets.US_ASCII));
                } else {
                    line.write(buffer[i]);
                }
            }
        }
    }

    private String step(String request) throws LinkException, InterruptedException {
        String[] words = request.strip().split(" +", -1);
        if (words.length < 3 || !words[0].equals("step")) {
            throw new LinkException(timeLine.name(), "not a step: \"" + request + "\"");
        }
        long untilNs = Long.parseLong(words[1]);
        Map<String, Long> readByOther = new TreeMap<>();
        for (int i = 3; i < words.length; i++) {
            String[] parts = words[i].split("[=/]", -1);
            Port port = ports.get(parts[0]);
            if (port == null) {
                throw new LinkException(timeLine.name(), "no link \"" + parts[0] + "\"");
            }
            takeIn(port, Long.parseLong(parts[1]));
            readByOther.put(parts[0], Long.parseLong(parts[2]));
        }
        Port waiting = ports.get(words[2]);
        if (waiting == null) {
            nowNs = Math.max(nowNs, untilNs);
        } else {
            waiting.peer.advanceTo(nowNs, waiting::send);
            if (waiting.sent <= readByOther.getOrDefault(words[2], 0L)) {
                OptionalLong next = waiting.peer.nextEventNs();
                long wantedNs = next.isPresent() ? Math.min(untilNs, Math.max(nowNs + 1, next.getAsLong())) : untilNs;
                nowNs = Math.max(nowNs, wantedNs);
                bench.bringTo(nowNs);
                waiting.peer.advanceTo(nowNs, waiting::send);
            }
        }
        bench.bringTo(nowNs);
        return answer();
    }

    private void takeIn(Port port, long wanted) throws LinkException, InterruptedException {
        byte[] buffer = new byte[4096];
        long waitedNs = 0;
        while (port.received < wanted) {
            int count = port.link.read(buffer, LOOK_NS);
            if (count > 0) {
                port.received += count;
                port.peer.advanceTo(nowNs, port::send);
                port.peer.receive(java.util.Arrays.copyOf(buffer, count), port::send);
            } else {
                waitedNs += LOOK_NS;
                if (waitedNs > LOST_BYTES_NS) {
                    throw new LinkDownException(
                            port.link.name(), wanted - port.received + " bytes that were announced did not come");
                }
            }
            if (port.trouble != null) {
                throw port.trouble;
            }
        }
    }

    private String answer() {
        StringBuilder reply = new StringBuilder(String.format(Locale.ROOT, "now %d", nowNs));
        ports.forEach((name, port) -> reply.append(' ').append(name).append('=').append(port.sent));
        return reply.append('\n').toString();
    }
}
