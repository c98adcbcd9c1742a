package railproof.rig;

import java.util.Optional;
import railproof.base.Clock;
import railproof.wire.Link;
import railproof.wire.LinkException;

/**
 * A link whose every wait is cut into slices, so that a stop request ends an exchange within {@value #SLICE_MS} ms
 * however long its timeout is. While the rig makes itself safe the guard is down: that work must not be stopped.
 *
 * <p>Thread: as the link it wraps.
 */
public final class GuardedLink implements Link {
    /** Longest time in which nobody looks at the stop signal, ms. */
    static final int SLICE_MS = 20;

    private static final long SLICE_NS = SLICE_MS * 1_000_000L;

    private final Link link;
    private final StopSignal stop;
    private final RigGuard guard;

    /**
     * Wraps a link.
     *
     * @param stop looked at before every slice
     * @param guard told that the control thread is alive; says whether the stop signal is to be obeyed
     */
    public GuardedLink(Link link, StopSignal stop, RigGuard guard) {
        this.link = link;
        this.stop = stop;
        this.guard = guard;
    }

    @Override
    public String name() {
        return link.name();
    }

    @Override
    public Clock clock() {
        return link.clock();
    }

    @Override
    public void write(byte[] bytes) throws LinkException {
        obeyStop();
        link.write(bytes);
    }

    @Override
    public int read(byte[] into, long timeoutNs) throws LinkException, InterruptedException {
        long deadlineNs = link.clock().nowNs() + Math.max(0, timeoutNs);
        while (true) {
            obeyStop();
            guard.pulse();
            long beforeNs = link.clock().nowNs();
            long remainingNs = deadlineNs - beforeNs;
            int count = link.read(into, Math.min(SLICE_NS, Math.max(0, remainingNs)));
            guard.waited(name(), link.clock().nowNs() - beforeNs);
            if (count > 0 || remainingNs <= SLICE_NS) {
                return count;
            }
        }
    }

    private void obeyStop() throws StopRequestedException {
        if (guard.obeysStop()) {
            Optional<StopSignal.Cause> cause = stop.cause();
            if (cause.isPresent()) {
                throw new StopRequestedException(name(), cause.get());
            }
        }
    }

    @Override
    public void discardInput() throws LinkException {
        link.discardInput();
    }

    @Override
    public boolean emergencyWrite(byte[] bytes) {
        return link.emergencyWrite(bytes);
    }

    @Override
    public ExitRegistration beforeExit(Runnable action) {
        return link.beforeExit(action);
    }

    @Override
    public void close() {
        link.close();
    }
}
