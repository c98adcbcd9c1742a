package railproof.wire;

import railproof.base.Clock;

/**
 * A link that writes down what goes over it.
 *
 * <p>Thread: as {@link Link}.
 */
public final class TracedLink implements Link {
    private final Link inner;
    private final WireTrace trace;

    /** Watches {@code inner}; several links may share a trace. */
    public TracedLink(Link inner, WireTrace trace) {
        this.inner = inner;
        this.trace = trace;
    }

    @Override
    public String name() {
        return inner.name();
    }

    @Override
    public Clock clock() {
        return inner.clock();
    }

    @Override
    public void write(byte[] bytes) throws LinkException {
        // before the write: what a failed write tried to send is what one wants to see
        trace.add(clock().nowNs(), WireTrace.Direction.SENT, name(), bytes, bytes.length);
        inner.write(bytes);
    }

    @Override
    public int read(byte[] into, long timeoutNs) throws LinkException, InterruptedException {
        int count = inner.read(into, timeoutNs);
        if (count > 0) {
            trace.add(clock().nowNs(), WireTrace.Direction.RECEIVED, name(), into, count);
        }
        return count;
    }

    @Override
    public void discardInput() throws LinkException {
        inner.discardInput();
    }

    @Override
    public boolean emergencyWrite(byte[] bytes) {
        trace.add(clock().nowNs(), WireTrace.Direction.EMERGENCY, name(), bytes, bytes.length);
        return inner.emergencyWrite(bytes);
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
