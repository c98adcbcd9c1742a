package railproof.instrument;

import java.util.BitSet;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import java.util.zip.CRC32;
import railproof.wire.Frame;
import railproof.wire.FrameKind;
import railproof.wire.LinkException;
import railproof.wire.LinkTimeoutException;

/**
 * Reads a finished capture out of the board: asks for what is missing until nothing is, then compares the checksum of
 * the whole block.
 *
 * <p>Thread: control thread only.
 */
final class CaptureTransfer {
    private static final PayloadLayout DATA = BoardMessage.SAMPLE_DATA.layout(FrameKind.DATA);
    private static final int AT_ID = DATA.field("capture_id").offset();
    private static final int AT_OFFSET = DATA.field("offset").offset();
    private static final int AT_COUNT = DATA.field("count").offset();
    private static final int FRAGMENTS_PER_REQUEST = 16;
    private static final int BARREN_REQUESTS = 4;
    /** A board, or a computer in between, that is slow for a moment gets more time with each request in vain. */
    private static final long MORE_TIME_NS = TimeUnit.MILLISECONDS.toNanos(200);

    private final BoardSession session;
    private final String name;
    private final int captureId;
    private final int channels;
    private final int scans;
    private final byte[] block;
    private final BitSet have = new BitSet();
    private long wrongFragments;

    /**
     * A transfer.
     *
     * @param channels captured channels
     * @param scans scans of the block
     */
    CaptureTransfer(BoardSession session, String name, int captureId, int channels, int scans) {
        this.session = session;
        this.name = name;
        this.captureId = captureId;
        this.channels = channels;
        this.scans = scans;
        this.block = new byte[Math.multiplyExact(Math.multiplyExact(scans, channels), 2)];
    }

    /**
     * Fetches the block.
     *
     * @param maxPayload longest payload of the board, bytes
     * @param blockCrc the board's checksum of the block
     * @return codes by channel position and scan
     */
    int[][] fetch(int maxPayload, long blockCrc) throws LinkException, InstrumentException, InterruptedException {
        int perFragment = (maxPayload - DATA.fixedLength()) / (2 * channels);
        session.data(this::take);
        try {
            fill(perFragment);
            if (crc() != blockCrc) {
                have.clear(); // damage that a frame checksum did not see: once more from the beginning
                fill(perFragment);
            }
        } finally {
            session.data(frame -> {});
        }
        if (crc() != blockCrc) {
            throw new InstrumentException(
                    name,
                    "CAPTURE_READ",
                    String.format(Locale.ROOT, "block checksum %08x", blockCrc),
                    String.format(Locale.ROOT, "%08x, twice", crc()));
        }
        return codes();
    }

    private void fill(int perFragment) throws LinkException, InstrumentException, InterruptedException {
        int barren = 0;
        int requests = 0;
        for (int from = have.nextClearBit(0); from < scans; from = have.nextClearBit(0)) {
            int hole = have.nextSetBit(from) < 0 ? scans : have.nextSetBit(from);
            int count = Math.min(hole - from, perFragment * FRAGMENTS_PER_REQUEST);
            int before = have.cardinality();
            requests++;
            try {
                session.ask(
                        new BoardExchange.Call(BoardMessage.CAPTURE_READ, barren * MORE_TIME_NS, 1),
                        BoardMessage.CAPTURE_READ
                                .request()
                                .set("capture_id", captureId)
                                .set("offset", from)
                                .set("count", count)
                                .bytes());
            } catch (LinkTimeoutException e) {
                // an answer without data, or data without the answer: what counts is whether holes were filled
                barren = have.cardinality() > before ? 0 : barren;
            }
            session.requireFed();
            barren = have.cardinality() > before ? 0 : barren + 1;
            if (barren == BARREN_REQUESTS) {
                throw new LinkTimeoutException(
                        name, "CAPTURE_READ of " + (scans - have.cardinality()) + " missing scans", 0, requests);
            }
        }
    }

    private void take(Frame frame) {
        byte[] payload = frame.payload();
        if (frame.type() != BoardMessage.SAMPLE_DATA.id()
                || payload.length < DATA.fixedLength()
                || FieldType.U16.read(payload, AT_ID) != captureId) {
            wrongFragments++;
            return;
        }
        long offset = FieldType.U32.read(payload, AT_OFFSET);
        int count = (int) FieldType.U16.read(payload, AT_COUNT);
        int bytes = count * channels * 2;
        if (offset + count > scans || payload.length < DATA.fixedLength() + bytes) {
            wrongFragments++;
            return;
        }
        System.arraycopy(payload, DATA.fixedLength(), block, (int) offset * channels * 2, bytes);
        have.set((int) offset, (int) offset + count);
    }

    /** Fragments that belonged to no or another capture. */
    long wrongFragments() {
        return wrongFragments;
    }

    private long crc() {
        CRC32 crc = new CRC32();
        crc.update(block);
        return crc.getValue();
    }

    private int[][] codes() {
        int[][] codes = new int[channels][scans];
        for (int scan = 0; scan < scans; scan++) {
            for (int k = 0; k < channels; k++) {
                codes[k][scan] = (int) FieldType.I16.read(block, 2 * (scan * channels + k));
            }
        }
        return codes;
    }

    /** How long the board samples at least, ns. */
    static long durationNs(long scans, long periodTicks, long tickHz) {
        return (long) (scans * (double) periodTicks / tickHz * TimeUnit.SECONDS.toNanos(1));
    }
}
