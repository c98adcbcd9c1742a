package railproof.instrument;

import java.util.OptionalLong;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import railproof.wire.Peer;

/** A board at the end of a line that loses some of the long frames, those with samples. */
final class LossyPeer implements Peer {
    private static final int LONG_BYTES = 200;

    private final Peer inner;
    private final BooleanSupplier loses;
    private int lost;

    /**
     * A lossy line.
     *
     * @param loses asked for each long frame
     */
    LossyPeer(Peer inner, BooleanSupplier loses) {
        this.inner = inner;
        this.loses = loses;
    }

    /** Frames lost so far. */
    int lost() {
        return lost;
    }

    private Consumer<byte[]> through(Consumer<byte[]> reply) {
        return frame -> {
            if (frame.length > LONG_BYTES && loses.getAsBoolean()) {
                lost++;
            } else {
                reply.accept(frame);
            }
        };
    }

    @Override
    public void receive(byte[] bytes, Consumer<byte[]> reply) {
        inner.receive(bytes, through(reply));
    }

    @Override
    public void advanceTo(long nowNs, Consumer<byte[]> reply) {
        inner.advanceTo(nowNs, through(reply));
    }

    @Override
    public OptionalLong nextEventNs() {
        return inner.nextEventNs();
    }
}
