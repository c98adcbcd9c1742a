package railproof.instrument;

import java.util.function.Supplier;
import railproof.base.Clock;
import railproof.wire.Link;
import railproof.wire.LinkException;

/** A link whose waits are watched over: every waiting read is stopped. */
record WatchedLink(Link inner, Supplier<LinkException> stop) implements Link {
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
        inner.write(bytes);
    }

    @Override
    public int read(byte[] into, long timeoutNs) throws LinkException, InterruptedException {
        if (timeoutNs > 0) {
            throw stop.get();
        }
        return inner.read(into, timeoutNs);
    }

    @Override
    public void discardInput() throws LinkException {
        inner.discardInput();
    }

    @Override
    public boolean emergencyWrite(byte[] bytes) {
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
