package railproof.wire;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

/**
 * Ten million frames, whole and damaged, with noise between them, cut anywhere: the decoder finds every whole one, takes
 * no damaged one, and holds no more memory at the end than at the beginning. The inputs kept for the firmware are fed
 * first.
 */
@Tag("slow")
@Timeout(value = 5, unit = TimeUnit.MINUTES)
class FrameDecoderCampaignTest {
    private static final Path CORPUS = Path.of("firmware-protocol", "firmware", "fuzz", "corpus");
    private static final List<FrameKind> KINDS = List.of(FrameKind.values());
    private static final long SEED = 20261125;
    private static final long FRAMES = 10_000_000;
    private static final int PER_ROUND = 2000;
    private static final int MAX_PAYLOAD = 1024;
    /** The decoder's own buffers are a few KiB; what is asserted is that nothing grows with the number of frames. */
    private static final long GROWTH_BYTES = 16L << 20;

    private final Random random = new Random(SEED);
    private final FrameDecoder decoder = new FrameDecoder(MAX_PAYLOAD);
    private final ByteArrayOutputStream wire = new ByteArrayOutputStream();
    private final List<Frame> sent = new ArrayList<>();
    private final List<Frame> got = new ArrayList<>();
    private long fed;
    private long whole;
    private long damaged;
    private long dropped;

    @Test
    void findsEveryWholeFrameAmongTenMillion() throws IOException {
        int files = feedCorpus();
        System.gc();
        long beforeBytes = usedBytes();
        while (fed < FRAMES) {
            round();
        }
        System.gc();
        long grownBytes = usedBytes() - beforeBytes;
        System.getLogger("campaign")
                .log(
                        System.Logger.Level.INFO,
                        fed + " frames from seed " + SEED + " (" + whole + " whole, " + damaged + " damaged; " + dropped
                                + " blocks dropped), " + files + " kept inputs; heap grew by " + grownBytes / 1024
                                + " KiB");
        assertTrue(files > 100, files + " kept inputs");
        assertTrue(grownBytes < GROWTH_BYTES, "heap grew by " + grownBytes + " bytes");
    }

    private static long usedBytes() {
        return Runtime.getRuntime().totalMemory() - Runtime.getRuntime().freeMemory();
    }

    private int feedCorpus() throws IOException {
        int files = 0;
        try (Stream<Path> corpus = Files.list(CORPUS)) {
            for (Path file : corpus.sorted().toList()) {
                byte[] bytes = Files.readAllBytes(file);
                decoder.feed(bytes, 0, bytes.length, decoded -> dropped++);
                files++;
            }
        }
        decoder.reset();
        return files;
    }

    private void round() {
        wire.reset();
        sent.clear();
        got.clear();
        for (int k = 0; k < PER_ROUND; k++) {
            put();
        }
        byte[] bytes = wire.toByteArray();
        for (int at = 0; at < bytes.length; ) {
            int count = Math.min(bytes.length - at, 1 + random.nextInt(700));
            decoder.feed(bytes, at, count, this::take);
            at += count;
        }
        assertEquals(sent.size(), got.size(), "seed " + SEED + " after " + fed + " frames");
        for (int k = 0; k < sent.size(); k++) {
            Frame one = sent.get(k);
            Frame other = got.get(k);
            assertTrue(
                    one.kind() == other.kind()
                            && one.flags() == other.flags()
                            && one.seq() == other.seq()
                            && one.type() == other.type()
                            && java.util.Arrays.equals(one.payload(), other.payload()),
                    () -> "seed " + SEED + ": " + one + " came as " + other);
        }
    }

    private void take(Decoded decoded) {
        if (decoded instanceof Frame frame) {
            got.add(frame);
        } else {
            dropped++;
        }
    }

    private void put() {
        fed++;
        FrameKind kind = KINDS.get(random.nextInt(KINDS.size()));
        byte[] payload = new byte[random.nextInt(50) == 0 ? random.nextInt(MAX_PAYLOAD + 1) : random.nextInt(24)];
        for (int i = 0; i < payload.length; i++) {
            payload[i] = (byte) (random.nextInt(3) == 0 ? 0 : random.nextInt());
        }
        Frame frame = new Frame(kind, random.nextInt(16), random.nextInt(0x10000), random.nextInt(0x10000), payload);
        byte[] bytes = FrameEncoder.wire(frame);
        switch (random.nextInt(4)) {
            case 0 -> {
                // one to three flipped bits in front of the delimiter, none of them making another one: what decodes
                // differs from the frame in few bits and a shift, and the checksum finds that
                damaged++;
                int last = bytes.length - 1;
                int flips = 1 + random.nextInt(3);
                for (int k = 0; k < flips; k++) {
                    int at = random.nextInt(last);
                    byte flipped = (byte) (bytes[at] ^ 1 << random.nextInt(8));
                    bytes[at] = flipped == 0 ? (byte) (bytes[at] ^ 0xFF) : flipped;
                    bytes[at] = bytes[at] == 0 ? 1 : bytes[at];
                }
                byte[] unharmed = FrameEncoder.wire(frame);
                if (java.util.Arrays.equals(unharmed, bytes)) {
                    sent.add(frame); // the flips undid each other
                }
                wire.writeBytes(bytes);
            }
            case 1 -> {
                // noise of any length, ended by a delimiter, then the frame
                whole++;
                byte[] noise = new byte[random.nextInt(40)];
                random.nextBytes(noise);
                wire.writeBytes(noise);
                wire.write(0);
                wire.writeBytes(bytes);
                sent.add(frame);
            }
            default -> {
                whole++;
                wire.writeBytes(bytes);
                sent.add(frame);
            }
        }
    }
}
