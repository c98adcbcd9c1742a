package railproof.wire;

/**
 * Bytes between two delimiters that are no frame. Never answered: nothing in it can be trusted.
 *
 * @param reason the first rule it breaks, in the order of {@link Reason}
 * @param length how many bytes were between the delimiters
 */
public record Noise(Reason reason, int length) implements Decoded {
    /** Why bytes are no frame. Rules are checked in this order, so that two implementations count alike. */
    public enum Reason {
        /** More bytes than the longest frame can have. */
        OVERLONG,
        /** No COBS encoding. */
        COBS,
        /** Fewer bytes than header and checksum. */
        SHORT,
        /** Checksum wrong. */
        CRC,
        /** The length field disagrees with the number of bytes. */
        LENGTH,
        /** A link version that is not known here. */
        VERSION,
        /** No such kind. */
        KIND,
        /** A flag bit that says "reject if not understood". */
        FLAGS
    }
}
