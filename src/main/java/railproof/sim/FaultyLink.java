package railproof.sim;

import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.Random;
import java.util.concurrent.ConcurrentLinkedDeque;
import java.util.function.LongFunction;
import railproof.base.Clock;
import railproof.wire.Link;
import railproof.wire.LinkDownException;
import railproof.wire.LinkException;

/**
 * A cable that goes wrong at chosen exchanges, for fault campaigns: "whichever exchange fails, the load ends off".
 * Emergency writes are not counted and pass, unless the port is gone or nothing passes.
 *
 * <p>Thread: as {@link Link}.
 */
public final class FaultyLink implements Link {
    private static final LinkEffect NONE = new LinkEffect.None();

    private static final class Late {
        private final long dueNs;
        private final byte[] bytes;

        Late(long dueNs, byte[] bytes) {
            this.dueNs = dueNs;
            this.bytes = bytes;
        }
    }

    private final Link nearest;
    private volatile Link inner;
    private final LongFunction<LinkEffect> plan;
    private final Deque<Late> late = new ArrayDeque<>();
    private long writes;
    private LinkEffect effect = NONE;
    private int replyBytes;
    private final Deque<byte[]> stalled = new ConcurrentLinkedDeque<>();
    private final Deque<byte[]> overtaken = new ArrayDeque<>();
    private long stallEndNs = Long.MIN_VALUE;
    private volatile boolean gone;

    /**
     * A cable with a plan.
     *
     * @param plan effect for the write with this number, counted from 1
     */
    public FaultyLink(Link inner, LongFunction<LinkEffect> plan) {
        this.nearest = inner;
        this.inner = inner;
        this.plan = plan;
    }

    /**
     * A cable that goes wrong once.
     *
     * @param nthWrite which exchange, counted from 1
     */
    public static FaultyLink at(Link inner, long nthWrite, LinkEffect effect) {
        return new FaultyLink(inner, n -> n == nthWrite ? effect : NONE);
    }

    /** How many writes there were, including those that went wrong. */
    public long writes() {
        return writes;
    }

    @Override
    public String name() {
        return nearest.name();
    }

    @Override
    public Clock clock() {
        return inner.clock();
    }

    @Override
    public void write(byte[] bytes) throws LinkException {
        writes++;
        effect = plan.apply(writes);
        replyBytes = 0;
        if (effect instanceof LinkEffect.Gone) {
            gone = true;
        } else if (effect instanceof LinkEffect.Elsewhere elsewhere) {
            inner = elsewhere.other();
        } else if (effect instanceof LinkEffect.Stall stall) {
            stallEndNs = clock().nowNs() + stall.lastsNs();
        }
        requireThere();
        if (stalling()) {
            stalled.addLast(bytes.clone());
            return;
        }
        release();
        if (effect instanceof LinkEffect.ShortWrite cut && cut.bytes() < bytes.length) {
            inner.write(Arrays.copyOf(bytes, cut.bytes()));
            gone = true;
            throw new LinkDownException(name(), "took only " + cut.bytes() + " of " + bytes.length + " bytes");
        }
        if (!(effect instanceof LinkEffect.Silence)) {
            inner.write(bytes);
        }
    }

    @Override
    public int read(byte[] into, long timeoutNs) throws LinkException, InterruptedException {
        requireThere();
        long deadlineNs = clock().nowNs() + Math.max(0, timeoutNs);
        if (stalling()) {
            clock().sleepNs(Math.max(1, Math.min(deadlineNs, stallEndNs) - clock().nowNs()));
            if (stalling()) {
                return 0;
            }
        }
        release();
        while (true) {
            int ready = takeLate(into);
            if (ready > 0) {
                return ready;
            }
            long leftNs = Math.max(0, deadlineNs - clock().nowNs());
            Late next = late.peekFirst();
            long waitNs = next == null ? leftNs : Math.min(leftNs, Math.max(1, next.dueNs - clock().nowNs()));
            int passed = pass(into, inner.read(into, waitNs));
            if (passed > 0) {
                return passed;
            }
            if (clock().nowNs() >= deadlineNs) {
                return takeLate(into);
            }
        }
    }

    private boolean stalling() {
        return clock().nowNs() < stallEndNs;
    }

    /** What was written while nothing passed. */
    private void release() throws LinkException {
        while (!stalled.isEmpty()) {
            inner.write(stalled.removeFirst());
        }
    }

    private int takeLate(byte[] into) {
        Late next = late.peekFirst();
        if (next == null || next.dueNs > clock().nowNs()) {
            return 0;
        }
        late.removeFirst();
        int count = Math.min(into.length, next.bytes.length);
        System.arraycopy(next.bytes, 0, into, 0, count);
        if (count < next.bytes.length) {
            late.addFirst(new Late(next.dueNs, Arrays.copyOfRange(next.bytes, count, next.bytes.length)));
        }
        return count;
    }

    /** What becomes of bytes that came from the device. */
    private int pass(byte[] into, int count) {
        if (count == 0) {
            return 0;
        }
        if (effect instanceof LinkEffect.LostReply) {
            return 0;
        }
        if (effect instanceof LinkEffect.Reorder) {
            overtaken.addLast(Arrays.copyOf(into, count));
            return 0;
        }
        while (!overtaken.isEmpty()) {
            late.addLast(new Late(clock().nowNs(), overtaken.removeFirst()));
        }
        if (effect instanceof LinkEffect.Garbage garbage) {
            byte[] random = new byte[count];
            new Random(garbage.seed() + replyBytes).nextBytes(random);
            System.arraycopy(random, 0, into, 0, count);
        } else if (effect instanceof LinkEffect.Truncate cut) {
            int kept = Math.max(0, Math.min(count, cut.bytes() - replyBytes));
            replyBytes += count;
            return kept;
        } else if (effect instanceof LinkEffect.Duplicate) {
            late.addLast(new Late(clock().nowNs(), Arrays.copyOf(into, count)));
        } else if (effect instanceof LinkEffect.Delay delay) {
            late.addLast(new Late(clock().nowNs() + delay.delayNs(), Arrays.copyOf(into, count)));
            return 0;
        }
        replyBytes += count;
        return count;
    }

    @Override
    public void discardInput() throws LinkException {
        requireThere();
        late.removeIf(l -> l.dueNs <= clock().nowNs());
        inner.discardInput();
    }

    @Override
    public boolean emergencyWrite(byte[] bytes) {
        if (stalling()) {
            stalled.addLast(bytes.clone());
            return true;
        }
        return !gone && inner.emergencyWrite(bytes);
    }

    @Override
    public ExitRegistration beforeExit(Runnable action) {
        return nearest.beforeExit(action);
    }

    @Override
    public void close() {
        inner.close();
        if (inner != nearest) {
            nearest.close();
        }
    }

    private void requireThere() throws LinkDownException {
        if (gone) {
            throw new LinkDownException(name(), "the port is gone");
        }
    }
}
