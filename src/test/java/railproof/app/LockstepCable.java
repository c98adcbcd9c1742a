package railproof.app;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import railproof.base.Clock;
import railproof.wire.Link;
import railproof.wire.LinkDownException;
import railproof.wire.LinkException;

/**
 * The controller's end of a bench that is served in lockstep by another process: a clock that moves the other process's
 * simulated time, and links that never run ahead of what that process has said.
 *
 * <p>Thread: one thread uses clock and links.
 */
final class LockstepCable implements Clock {
    private static final long LOST_NS = 10_000_000_000L;

    private final Link timeLine;
    private final Instant epoch;
    private final Map<String, Port> ports = new TreeMap<>();
    private long nowNs;

    LockstepCable(Link timeLine, Instant epoch) {
        this.timeLine = timeLine;
        this.epoch = epoch;
    }

    /** A link over a real port, in lockstep. */
    Link link(Link inner) {
        Port port = new Port(inner);
        ports.put(inner.name(), port);
        return port;
    }

    @Override
    public long nowNs() {
        return nowNs;
    }

    @Override
    public Instant wallTime() {
        return epoch.plusNanos(nowNs);
    }

    @Override
    public void sleepNs(long durationNs) throws InterruptedException {
        if (durationNs > 0) {
            try {
                step(nowNs + durationNs, "-");
            } catch (LinkException e) {
                throw new IllegalStateException("the bench is gone", e);
            }
        }
    }

    private void step(long untilNs, String waiting) throws LinkException, InterruptedException {
        StringBuilder request = new StringBuilder(String.format(Locale.ROOT, "step %d %s", untilNs, waiting));
        ports.forEach((name, port) -> request.append(' ')
                .append(name)
                .append('=')
                .append(port.written)
                .append('/')
                .append(port.read));
        timeLine.write(request.append('\n').toString().getBytes(StandardCharsets.US_ASCII));
        StringBuilder answer = new StringBuilder();
        byte[] buffer = new byte[4096];
        while (answer.indexOf("\n") < 0) {
            int count = timeLine.read(buffer, LOST_NS);
            if (count == 0) {
                throw new LinkDownException(timeLine.name(), "the bench does not answer");
            }
            answer.append(new String(buffer, 0, count, StandardCharsets.US_ASCII));
        }
        String[] words = answer.toString().strip().split(" ", -1);
        nowNs = Long.parseLong(words[1]);
        for (int i = 2; i < words.length; i++) {
            String[] parts = words[i].split("=", -1);
            Port port = ports.get(parts[0]);
            if (port != null) {
                port.announced = Long.parseLong(parts[1]);
            }
        }
    }

    /** One port. */
    private final class Port implements Link {
        private final Link inner;
        private long written;
        private long read;
        private long announced;

        Port(Link inner) {
            this.inner = inner;
        }

        @Override
        public String name() {
            return inner.name();
        }

        @Override
        public Clock clock() {
            return LockstepCable.this;
        }

        @Override
        public void write(byte[] bytes) throws LinkException {
            inner.write(bytes);
            written += bytes.length;
        }

        @Override
        public int read(byte[] into, long timeoutNs) throws LinkException, InterruptedException {
            long deadlineNs = nowNs + Math.max(0, timeoutNs);
            while (true) {
                if (announced > read) {
                    int count = inner.read(into, LOST_NS);
                    if (count == 0) {
                        throw new LinkDownException(name(), "bytes that were announced did not come");
                    }
                    read += count;
                    return count;
                }
                boolean late = nowNs >= deadlineNs;
                step(deadlineNs, name());
                if (late && announced <= read) {
                    return 0;
                }
            }
        }

        @Override
        public void discardInput() throws LinkException {
            try {
                byte[] buffer = new byte[4096];
                while (read(buffer, 0) > 0) {
                    // thrown away
                }
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        }

        @Override
        public boolean emergencyWrite(byte[] bytes) {
            boolean taken = inner.emergencyWrite(bytes);
            written += taken ? bytes.length : 0;
            return taken;
        }

        @Override
        public ExitRegistration beforeExit(Runnable action) {
            return inner.beforeExit(action);
        }

        @Override
        public void close() {
            inner.close();
        }
    }
}
