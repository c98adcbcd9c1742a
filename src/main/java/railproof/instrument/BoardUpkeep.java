package railproof.instrument;

import java.io.ByteArrayOutputStream;
import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.zip.CRC32;
import railproof.base.Clock;
import railproof.wire.FrameKind;
import railproof.wire.LinkException;
import railproof.wire.LinkTimeoutException;

/**
 * What is done to a board between runs: the record stored on it, its test of itself, a test of its cable, its restart.
 * The board refuses to store, to test itself and to restart while it is armed.
 *
 * <p>Thread: control thread only.
 */
public final class BoardUpkeep {
    /** Load-enable and contacts read back as off. */
    public static final int OUTPUTS = 1;
    /** The converter answers, its reference is in range. */
    public static final int CONVERTER = 1 << 1;
    /** The stored record has the right checksum. */
    public static final int STORAGE = 1 << 2;
    /** Capture memory, written and read back. */
    public static final int MEMORY = 1 << 3;

    private static final int COMMIT_MAGIC = 0x214C4143;
    private static final int RESET_MAGIC = 0x54455352;
    private static final int READ_HEADER =
            BoardMessage.CAL_READ.layout(FrameKind.RESPONSE).fixedLength();
    private static final int WRITE_HEADER =
            BoardMessage.CAL_WRITE.layout(FrameKind.REQUEST).fixedLength();
    /** Answers to CAL_COMMIT and SELF_TEST may take so long (PROTOCOL.md section 8). */
    private static final long SLOW_NS = TimeUnit.MILLISECONDS.toNanos(500);

    /** BOOT takes 2 s at most (PROTOCOL.md section 8); a USB port needs some time more to come back. */
    private static final long RESTART_NS = TimeUnit.SECONDS.toNanos(5);

    private static final long POLL_NS = TimeUnit.MILLISECONDS.toNanos(20);

    private final BoardSession session;
    private final Clock clock;
    private final PayloadReader can;

    BoardUpkeep(BoardSession session, Clock clock, PayloadReader can) {
        this.session = session;
        this.clock = clock;
        this.can = can;
    }

    /**
     * A self-test's result.
     *
     * @param done bits of the tests that were made
     * @param failed bits of those that failed
     */
    public record SelfTest(int done, int failed) {}

    /** What is stored on the board. Thread: immutable. */
    public static final class StoredRecord {
        private final long generation;
        private final byte[] bytes;

        private StoredRecord(long generation, byte[] bytes) {
            this.generation = generation;
            this.bytes = bytes;
        }

        /** Counts the commits of this board. */
        public long generation() {
            return generation;
        }

        /** The record; its meaning is the host's business. */
        public byte[] bytes() {
            return bytes.clone();
        }
    }

    /** How many bytes the board can store; 0 if it has no storage. */
    public int room() {
        return can.getInt("store_bytes");
    }

    /**
     * Reads the stored record; empty if there is none.
     *
     * @throws InstrumentException if it changes meanwhile, or its checksum is not the one the board states
     */
    public Optional<StoredRecord> read() throws LinkException, InstrumentException, InterruptedException {
        int piece = can.getInt("max_payload") - READ_HEADER;
        Optional<PayloadReader> first = session.askIfThere(BoardMessage.CAL_READ, piece(0, piece));
        if (first.isEmpty()) {
            return Optional.empty();
        }
        long generation = first.get().get("generation");
        int length = first.get().getInt("length");
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        PayloadReader answer = first.get();
        while (true) {
            byte[] rest = answer.rest();
            if (answer.get("generation") != generation || answer.getInt("offset") != bytes.size() || rest.length == 0) {
                throw new InstrumentException(
                        session.name(),
                        "CAL_READ",
                        "bytes from " + bytes.size() + " on of record " + generation,
                        rest.length + " bytes from " + answer.getInt("offset") + " of record "
                                + answer.get("generation"));
            }
            bytes.write(rest, 0, Math.min(rest.length, length - bytes.size()));
            if (bytes.size() >= length) {
                break;
            }
            answer = session.ask(BoardMessage.CAL_READ, piece(bytes.size(), piece));
        }
        checkCrc("CAL_READ", bytes.toByteArray(), answer.get("record_crc"));
        return Optional.of(new StoredRecord(generation, bytes.toByteArray()));
    }

    private static PayloadWriter piece(int offset, int count) {
        return BoardMessage.CAL_READ.request().set("offset", offset).set("count", count);
    }

    /**
     * Stores a record. The board writes the slot that is not in force, its header last: until this returns the old record
     * may be the one in force, afterwards the new one is.
     *
     * @param record 1 to {@link #room} bytes
     * @return its generation
     */
    public long write(byte[] record) throws LinkException, InstrumentException, InterruptedException {
        if (record.length < 1 || record.length > room()) {
            throw new IllegalArgumentException(
                    "a record of " + record.length + " bytes, the board stores 1 to " + room());
        }
        int piece = can.getInt("max_payload") - WRITE_HEADER;
        for (int at = 0; at < record.length; at += piece) {
            byte[] part = Arrays.copyOfRange(record, at, Math.min(record.length, at + piece));
            session.ask(
                    BoardMessage.CAL_WRITE,
                    BoardMessage.CAL_WRITE.request().set("offset", at).rest(part));
        }
        byte[] commit = BoardMessage.CAL_COMMIT
                .request()
                .set("magic", COMMIT_MAGIC)
                .set("record_crc", crc(record))
                .set("length", record.length)
                .bytes();
        PayloadReader stored = session.ask(new BoardExchange.Call(BoardMessage.CAL_COMMIT, SLOW_NS, 3), commit);
        checkCrc("CAL_COMMIT", record, stored.get("record_crc"));
        return stored.get("generation");
    }

    private void checkCrc(String what, byte[] bytes, long stated) throws InstrumentException {
        if (crc(bytes) != stated) {
            throw new InstrumentException(
                    session.name(),
                    what,
                    String.format(Locale.ROOT, "checksum %08x", stated),
                    String.format(Locale.ROOT, "%08x", crc(bytes)));
        }
    }

    private static long crc(byte[] bytes) {
        CRC32 crc = new CRC32();
        crc.update(bytes);
        return crc.getValue();
    }

    /**
     * Has the board test itself.
     *
     * @param tests bits of the tests wanted; those that it does not know are left out
     */
    public SelfTest selfTest(int tests) throws LinkException, InstrumentException, InterruptedException {
        byte[] payload = BoardMessage.SELF_TEST
                .request()
                .set("tests", tests & 0xFFFFFFFFL)
                .bytes();
        PayloadReader result = session.ask(new BoardExchange.Call(BoardMessage.SELF_TEST, SLOW_NS, 3), payload);
        return new SelfTest((int) result.get("done"), (int) result.get("failed"));
    }

    /**
     * Sends bytes there and back: a test of the cable.
     *
     * @param data at most the board's longest payload
     * @throws InstrumentException if other bytes come back
     */
    public void echo(byte[] data) throws LinkException, InstrumentException, InterruptedException {
        if (data.length > can.getInt("max_payload")) {
            throw new IllegalArgumentException(
                    data.length + " bytes of PING, the board takes " + can.getInt("max_payload"));
        }
        byte[] back = session.ask(BoardMessage.PING, BoardMessage.PING.request().rest(data))
                .rest();
        if (!Arrays.equals(data, back)) {
            throw new InstrumentException(
                    session.name(), "PING", "the same " + data.length + " bytes", back.length + " others");
        }
    }

    /**
     * Has the board start anew as if power had returned, and waits until it answers again. Its settings are lost; before
     * anything else it has to be connected to anew, as after any other restart.
     *
     * @throws InstrumentException if it is armed, or did not restart
     */
    public void restart() throws LinkException, InstrumentException, InterruptedException {
        long before = session.ask(BoardMessage.STATUS_READ).get("boot_id");
        session.ask(BoardMessage.RESET, BoardMessage.RESET.request().set("magic", RESET_MAGIC));
        long deadlineNs = clock.nowNs() + RESTART_NS;
        while (bootId(before) == before) {
            if (clock.nowNs() >= deadlineNs) {
                throw new InstrumentException(session.name(), "RESET", "another boot id", "the same as before");
            }
            session.exchange().idle(POLL_NS);
        }
    }

    /** The present boot id; that of before as long as the board does not answer. */
    private long bootId(long before) throws LinkException, InstrumentException, InterruptedException {
        try {
            return session.ask(BoardMessage.STATUS_READ).get("boot_id");
        } catch (LinkTimeoutException e) {
            return before;
        }
    }
}
