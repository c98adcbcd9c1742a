package railproof.sim.device;

import java.util.Arrays;
import java.util.Optional;
import java.util.zip.CRC32;

/**
 * The storage of the simulated board: one record in two slots. It outlives resets; the staging area does not.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class RecordStore {
    /** Bytes a record can have. */
    static final int ROOM = 1024;

    /** What a slot holds. */
    static final class Entry {
        private final long generation;
        private final byte[] bytes;
        private final long crc;

        private Entry(long generation, byte[] bytes) {
            this.generation = generation;
            this.bytes = bytes;
            this.crc = crcOf(bytes, bytes.length);
        }

        long generation() {
            return generation;
        }

        /** Checksum of the record as it was written. */
        long crc() {
            return crc;
        }

        int length() {
            return bytes.length;
        }

        byte[] part(int offset, int count) {
            return Arrays.copyOfRange(bytes, offset, Math.min(bytes.length, offset + count));
        }

        private boolean intact() {
            return crcOf(bytes, bytes.length) == crc;
        }
    }

    private final byte[] staging = new byte[ROOM];
    private Optional<Entry> inForce = Optional.empty();
    private Optional<Entry> before = Optional.empty();
    private boolean locked;

    /** A reset: the staging area is zero, and the later of the whole records is in force. */
    void open() {
        Arrays.fill(staging, (byte) 0);
        if (inForce.filter(e -> !e.intact()).isPresent()) {
            inForce = before.filter(Entry::intact);
            before = Optional.empty();
        }
    }

    Optional<Entry> inForce() {
        return inForce;
    }

    /** Whether the record in force still has its checksum; true without one. */
    boolean intact() {
        return inForce.map(Entry::intact).orElse(true);
    }

    boolean locked() {
        return locked;
    }

    void lock(boolean on) {
        locked = on;
    }

    void stage(int offset, byte[] bytes) {
        System.arraycopy(bytes, 0, staging, offset, bytes.length);
    }

    long stagedCrc(int length) {
        return crcOf(staging, length);
    }

    /** Puts the first staged bytes in force. */
    Entry commit(int length) {
        Entry entry = new Entry(inForce.map(e -> e.generation + 1).orElse(1L), Arrays.copyOf(staging, length));
        before = inForce;
        inForce = Optional.of(entry);
        Arrays.fill(staging, (byte) 0);
        return entry;
    }

    /** Turns a bit of the record in force over, as a worn storage cell does. */
    void damage() {
        inForce.ifPresent(e -> e.bytes[0] ^= 1);
    }

    private static long crcOf(byte[] bytes, int length) {
        CRC32 crc = new CRC32();
        crc.update(bytes, 0, length);
        return crc.getValue();
    }
}
