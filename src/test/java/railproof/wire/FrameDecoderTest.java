package railproof.wire;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import java.util.zip.CRC32;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Framing: what must be found, what must be dropped, whatever the portions it comes in. */
class FrameDecoderTest {
    /** LIMIT_SET, the longest request that switches or limits anything, has so many bytes on the wire. */
    private static final int LONGEST_SHORT_FRAME = 30;

    private static final byte REQUEST_IN_LINK_1 = 0x11;
    private static final Frame IDENTIFY = new Frame(FrameKind.REQUEST, 0, 1, 1, new byte[] {1, 0, 1, 0});

    @Test
    void usesTheChecksumOfThePublishedCatalogue() {
        // CRC-32/ISO-HDLC: check value of "123456789" as printed in the published catalogues of CRC algorithms,
        // and as a second point that of "A"
        assertEquals(0xCBF43926L, crc("123456789"));
        assertEquals(0xD3D99E8BL, crc("A"));
        assertEquals(0L, crc(""));
    }

    private static long crc(String text) {
        CRC32 crc = new CRC32();
        crc.update(text.getBytes(StandardCharsets.US_ASCII));
        return crc.getValue();
    }

    @Test
    void rejectsEveryFlipOfOneOrTwoBitsOfTheRawFrame() {
        byte[] raw = FrameEncoder.raw(IDENTIFY);
        int bits = raw.length * 8;
        int tried = 0;
        for (int a = 0; a < bits; a++) {
            for (int b = a; b < bits; b++) {
                byte[] flipped = raw.clone();
                flipped[a / 8] ^= (byte) (1 << (a % 8));
                if (b != a) {
                    flipped[b / 8] ^= (byte) (1 << (b % 8));
                }
                List<Decoded> out = decode(new FrameDecoder(1024), stuff(flipped));
                assertEquals(1, out.size());
                assertTrue(out.get(0) instanceof Noise, "bits " + a + " and " + b);
                tried++;
            }
        }
        assertEquals(bits * (bits + 1) / 2, tried);
    }

    /** The requests of the golden vectors that are short on the wire: all that switch something are among them. */
    static Stream<byte[]> shortRequests() throws IOException {
        return Files.readAllLines(Path.of("firmware-protocol", "vectors", "messages.txt")).stream()
                .filter(line -> line.startsWith("wire "))
                .map(line -> HexFormat.of().parseHex(line.substring(5).replace(" ", "")))
                .filter(wire -> wire.length <= LONGEST_SHORT_FRAME && wire[1] == REQUEST_IN_LINK_1);
    }

    @ParameterizedTest
    @MethodSource("shortRequests")
    void rejectsEveryFlipOfOneOrTwoBitsOnTheWire(byte[] wire) {
        FrameDecoder decoder = new FrameDecoder(1024);
        byte[] end = {0};
        int[] frames = {0};
        int bits = wire.length * 8;
        for (int a = 0; a < bits; a++) {
            for (int b = a; b < bits; b++) {
                byte[] flipped = wire.clone();
                flipped[a / 8] ^= (byte) (1 << (a % 8));
                if (b != a) {
                    flipped[b / 8] ^= (byte) (1 << (b % 8));
                }
                decoder.feed(flipped, 0, flipped.length, d -> frames[0] += d instanceof Frame ? 1 : 0);
                decoder.feed(end, 0, 1, d -> frames[0] += d instanceof Frame ? 1 : 0);
                assertEquals(0, frames[0], "bits " + a + " and " + b);
            }
        }
    }

    @Test
    void triesTheFlipsOnEverythingThatSwitches() throws IOException {
        Set<Integer> types = shortRequests()
                .map(wire -> ((Frame) decode(new FrameDecoder(1024), wire).get(0)).type())
                .collect(Collectors.toSet());
        // ARM, SAFE_STATE, FAULT_CLEAR, LIMIT_SET, RELAY_SET, LOAD_ENABLE_SET, HEARTBEAT, RESET
        assertTrue(types.containsAll(Set.of(0x10, 0x11, 0x13, 0x14, 0x20, 0x21, 0x05, 0x51)), types.toString());
    }

    @Test
    void findsFramesWhateverThePortions() {
        byte[] two = join(FrameEncoder.wire(IDENTIFY), FrameEncoder.wire(frame(2, 300)));
        List<Decoded> whole = decode(new FrameDecoder(1024), two);
        assertEquals(List.of(IDENTIFY, frame(2, 300)), whole);

        for (int split = 0; split <= two.length; split++) {
            FrameDecoder decoder = new FrameDecoder(1024);
            List<Decoded> out = new ArrayList<>();
            decoder.feed(two, 0, split, out::add);
            decoder.feed(two, split, two.length - split, out::add);
            assertEquals(whole, out, "split at " + split);
        }
        FrameDecoder decoder = new FrameDecoder(1024);
        List<Decoded> out = new ArrayList<>();
        for (int i = 0; i < two.length; i++) {
            decoder.feed(two, i, 1, out::add);
        }
        assertEquals(whole, out);
    }

    @Test
    void losesNoFrameToNoiseBetweenFrames() {
        long seed = 4711;
        Random random = new Random(seed);
        FrameDecoder decoder = new FrameDecoder(1024);
        List<Decoded> out = new ArrayList<>();
        List<Frame> sent = new ArrayList<>();
        for (int round = 0; round < 500; round++) {
            byte[] noise = new byte[random.nextInt(round % 50 == 0 ? 5000 : 40)];
            random.nextBytes(noise);
            Frame frame = frame(round, random.nextInt(400));
            sent.add(frame);
            byte[] bytes = join(noise, new byte[] {0}, FrameEncoder.wire(frame));
            for (int at = 0; at < bytes.length; ) {
                int portion = Math.min(bytes.length - at, 1 + random.nextInt(100));
                decoder.feed(bytes, at, portion, out::add);
                at += portion;
            }
        }
        assertEquals(sent, out.stream().filter(Frame.class::isInstance).toList(), "seed " + seed);
    }

    @Test
    void staysBoundedWhenNoDelimiterComes() {
        FrameDecoder decoder = new FrameDecoder(1024);
        List<Decoded> out = new ArrayList<>();
        byte[] ones = new byte[65_536];
        Arrays.fill(ones, (byte) 1);
        for (int k = 0; k < 16; k++) {
            decoder.feed(ones, 0, ones.length, out::add);
        }
        assertEquals(List.of(), out);

        byte[] then = join(new byte[] {0}, FrameEncoder.wire(IDENTIFY));
        decoder.feed(then, 0, then.length, out::add);

        assertEquals(List.of(new Noise(Noise.Reason.OVERLONG, 1 << 20), IDENTIFY), out);
    }

    @Test
    void takesTheLongestFrameAndRefusesOneByteMore() {
        assertEquals(List.of(frame(1, 1024)), decode(new FrameDecoder(1024), FrameEncoder.wire(frame(1, 1024))));
        byte[] longer = new byte[1025 + 200];
        Arrays.fill(longer, (byte) 7);
        List<Decoded> out =
                decode(new FrameDecoder(1024), FrameEncoder.wire(new Frame(FrameKind.REQUEST, 0, 1, 4, longer)));
        assertEquals(Noise.Reason.OVERLONG, ((Noise) out.get(0)).reason());
    }

    @Test
    void ignoresEmptyBlocks() {
        assertEquals(List.of(), decode(new FrameDecoder(1024), new byte[10]));
    }

    @Test
    void forgetsAHalfFrameOnReset() {
        FrameDecoder decoder = new FrameDecoder(1024);
        List<Decoded> out = new ArrayList<>();
        decoder.feed(new byte[] {3, 1}, 0, 2, out::add);
        decoder.reset();
        byte[] wire = FrameEncoder.wire(IDENTIFY);
        decoder.feed(wire, 0, wire.length, out::add);
        assertEquals(List.of(IDENTIFY), out);
    }

    @Test
    void isReadableInMessages() {
        assertEquals("REQUEST type=0001 seq=1 flags=00 payload=01000100", IDENTIFY.toString());
        assertEquals("11000100010004000100010" + "06e1836f5", HexFormat.of().formatHex(FrameEncoder.raw(IDENTIFY)));
    }

    private static Frame frame(int seq, int length) {
        byte[] payload = new byte[length];
        new Random(seq).nextBytes(payload);
        return new Frame(FrameKind.DATA, Frame.OUTPUTS_SAFE, seq, 0x81, payload);
    }

    private static byte[] stuff(byte[] raw) {
        byte[] encoded = new byte[Cobs.maxEncodedLength(raw.length) + 1];
        int length = Cobs.encode(raw, raw.length, encoded, 0);
        return Arrays.copyOf(encoded, length + 1);
    }

    private static List<Decoded> decode(FrameDecoder decoder, byte[] bytes) {
        List<Decoded> out = new ArrayList<>();
        decoder.feed(bytes, 0, bytes.length, out::add);
        return out;
    }

    private static byte[] join(byte[]... parts) {
        byte[] all = new byte[0];
        for (byte[] part : parts) {
            int at = all.length;
            all = Arrays.copyOf(all, at + part.length);
            System.arraycopy(part, 0, all, at, part.length);
        }
        return all;
    }
}
