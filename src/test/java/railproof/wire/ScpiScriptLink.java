package railproof.wire;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import railproof.base.Clock;
import railproof.base.VirtualClock;

/** A link with a scripted device: each write is answered by a function of its text. Time moves only by waiting. */
final class ScpiScriptLink implements Link {
    final VirtualClock clock = new VirtualClock(Instant.EPOCH);
    final List<String> written = new ArrayList<>();
    private final Deque<Byte> incoming = new ArrayDeque<>();
    private final Function<String, @Nullable String> device;

    /** Most bytes given by one read. */
    int chunk = Integer.MAX_VALUE;

    /** Thrown by the next waiting read, once. */
    @Nullable
    LinkException nextRead;

    ScpiScriptLink(Function<String, @Nullable String> device) {
        this.device = device;
    }

    /** A device that keeps itself in step: answers the queries of the way back, and all else by {@code other}. */
    static ScpiScriptLink orderly(Function<String, @Nullable String> other) {
        return new ScpiScriptLink(line -> switch (line) {
            case "*ESR?\n" -> "0\n";
            case "*IDN?\n" -> "WORKSHOP,LOAD,7,1.0\n";
            case ":SYST:ERR?\n" -> "0,\"No error\"\n";
            default -> other.apply(line);
        });
    }

    void inject(String text) {
        for (byte b : text.getBytes(StandardCharsets.ISO_8859_1)) {
            incoming.add(b);
        }
    }

    @Override
    public String name() {
        return "script";
    }

    @Override
    public Clock clock() {
        return clock;
    }

    @Override
    public void write(byte[] bytes) {
        String line = new String(bytes, StandardCharsets.ISO_8859_1);
        written.add(line);
        String reply = device.apply(line);
        if (reply != null) {
            inject(reply);
        }
    }

    @Override
    public int read(byte[] into, long timeoutNs) throws LinkException, InterruptedException {
        LinkException planned = nextRead;
        if (planned != null && timeoutNs > 0) {
            nextRead = null;
            throw planned;
        }
        int count = 0;
        while (!incoming.isEmpty() && count < Math.min(into.length, chunk)) {
            into[count++] = incoming.remove();
        }
        if (count == 0) {
            clock.sleepNs(timeoutNs);
        }
        return count;
    }

    @Override
    public void discardInput() {
        incoming.clear();
    }

    @Override
    public boolean emergencyWrite(byte[] bytes) {
        write(bytes);
        return true;
    }

    @Override
    public ExitRegistration beforeExit(Runnable action) {
        return () -> {};
    }

    @Override
    public void close() {}
}
