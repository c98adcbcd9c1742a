package railproof.sim.device;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;

/** Payloads of the board's protocol, little-endian. */
final class Payloads {
    private Payloads() {}

    /** An empty payload of a length, to be written from its beginning. */
    static ByteBuffer out(int length) {
        return ByteBuffer.allocate(length).order(ByteOrder.LITTLE_ENDIAN);
    }

    /**
     * A payload to be read.
     *
     * @param least bytes it has to have; fewer are refused
     */
    static ByteBuffer in(byte[] payload, int least) {
        if (payload.length < least) {
            throw new Refusal(Refusal.BAD_LENGTH, least);
        }
        return ByteBuffer.wrap(payload).order(ByteOrder.LITTLE_ENDIAN);
    }
}
