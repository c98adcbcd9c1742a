package railproof.wire;

/** What a frame is. The code is the low nibble of its first byte. */
public enum FrameKind {
    /** Host to device: do something and answer. */
    REQUEST(1),
    /** Device to host: done. */
    RESPONSE(2),
    /** Device to host: not done, and why. */
    ERROR(3),
    /** Device to host, unasked. */
    EVENT(4),
    /** Device to host: a piece of bulk data. */
    DATA(5);

    private final int code;

    FrameKind(int code) {
        this.code = code;
    }

    /** The number on the wire. */
    public int code() {
        return code;
    }
}
