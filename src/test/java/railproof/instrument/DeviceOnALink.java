package railproof.instrument;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import java.util.function.BiConsumer;
import java.util.function.Consumer;
import java.util.function.IntSupplier;
import java.util.function.LongConsumer;
import java.util.function.UnaryOperator;
import org.jspecify.annotations.Nullable;
import railproof.base.Clock;
import railproof.base.VirtualClock;
import railproof.wire.Link;
import railproof.wire.LinkDownException;
import railproof.wire.LinkException;

/** A link whose other end is a simulated device in the same thread; time moves only when somebody waits. */
final class DeviceOnALink implements Link {
    private final VirtualClock clock = new VirtualClock(Instant.EPOCH);
    private final BiConsumer<byte[], Consumer<byte[]>> device;
    private final LongConsumer advance;
    private final Deque<byte[]> incoming = new ArrayDeque<>();

    /** Everything written, in order. */
    final List<String> written = new ArrayList<>();

    /** Changes each reply on its way; null loses it. */
    UnaryOperator<@Nullable String> onTheWay = reply -> reply;

    /** Length of the next piece that one read gives, at least 1. */
    IntSupplier chunk = () -> Integer.MAX_VALUE;

    /** The operation (write or waiting read) that fails, counted from 1; 0 for none. */
    int failingOperation;

    boolean closed;
    int operations;

    DeviceOnALink(BiConsumer<byte[], Consumer<byte[]>> device, LongConsumer advance) {
        this.device = device;
        this.advance = advance;
        advance.accept(0);
    }

    @Override
    public String name() {
        return "bench-load";
    }

    @Override
    public Clock clock() {
        return clock;
    }

    @Override
    public void write(byte[] bytes) throws LinkException {
        countOperation();
        deliver(bytes);
    }

    private void deliver(byte[] bytes) {
        written.add(new String(bytes, StandardCharsets.US_ASCII));
        advance.accept(clock.nowNs());
        device.accept(bytes, reply -> {
            String changed = onTheWay.apply(new String(reply, StandardCharsets.ISO_8859_1));
            if (changed != null) {
                inject(changed);
            }
        });
    }

    void inject(String text) {
        byte[] bytes = text.getBytes(StandardCharsets.ISO_8859_1);
        int at = 0;
        while (at < bytes.length) {
            int end = at + Math.min(chunk.getAsInt(), bytes.length - at);
            incoming.add(Arrays.copyOfRange(bytes, at, end));
            at = end;
        }
    }

    private void countOperation() throws LinkDownException {
        operations++;
        if (operations == failingOperation) {
            throw new LinkDownException(name(), "pulled");
        }
    }

    @Override
    public int read(byte[] into, long timeoutNs) throws LinkException, InterruptedException {
        if (timeoutNs > 0) {
            countOperation();
            if (Thread.interrupted()) {
                throw new InterruptedException("interrupted while waiting");
            }
        }
        byte[] next = incoming.poll();
        if (next == null) {
            clock.sleepNs(timeoutNs);
            advance.accept(clock.nowNs());
            return 0;
        }
        int count = Math.min(into.length, next.length);
        System.arraycopy(next, 0, into, 0, count);
        if (count < next.length) {
            incoming.addFirst(Arrays.copyOfRange(next, count, next.length));
        }
        return count;
    }

    /** Time passes with nobody on the line. */
    void pass(long durationNs) {
        clock.advanceTo(clock.nowNs() + durationNs);
        advance.accept(clock.nowNs());
    }

    @Override
    public void discardInput() {
        incoming.clear();
    }

    @Override
    public boolean emergencyWrite(byte[] bytes) {
        deliver(bytes);
        return true;
    }

    @Override
    public ExitRegistration beforeExit(Runnable action) {
        return () -> {};
    }

    @Override
    public void close() {
        closed = true;
    }
}
