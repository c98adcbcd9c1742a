package railproof.instrument;

/** Kinds of fields in a payload. All numbers are little-endian. */
enum FieldType {
    U8(1, false),
    U16(2, false),
    U32(4, false),
    U64(8, false),
    I16(2, true),
    I32(4, true),
    I64(8, true),
    /** Text of a fixed number of bytes, UTF-8, filled up with zero bytes. */
    CHAR(0, false),
    /** All bytes to the end of the payload. */
    BYTES(0, false);

    private final int size;
    private final boolean signed;

    FieldType(int size, boolean signed) {
        this.size = size;
        this.signed = signed;
    }

    /** Bytes of a number; 0 for text and bytes. */
    int size() {
        return size;
    }

    /** Reads a number. An unsigned 64-bit number comes out as the same bits. */
    long read(byte[] from, int at) {
        long value = 0;
        for (int k = size - 1; k >= 0; k--) {
            value = value << 8 | (from[at + k] & 0xFFL);
        }
        int unused = 64 - 8 * size;
        return signed ? value << unused >> unused : value;
    }

    /**
     * Writes a number.
     *
     * @throws IllegalArgumentException if it does not fit
     */
    void write(byte[] into, int at, long value) {
        int bits = 8 * size;
        if (bits < 64) {
            long min = signed ? -(1L << (bits - 1)) : 0;
            long max = signed ? (1L << (bits - 1)) - 1 : (1L << bits) - 1;
            if (value < min || value > max) {
                throw new IllegalArgumentException("must be " + min + " to " + max + ", got " + value);
            }
        }
        for (int k = 0; k < size; k++) {
            into[at + k] = (byte) (value >> (8 * k));
        }
    }
}
