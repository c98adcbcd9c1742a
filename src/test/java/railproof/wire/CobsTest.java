package railproof.wire;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.HexFormat;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Byte stuffing against the examples that go with S. Cheshire, M. Baker, "Consistent Overhead Byte Stuffing", IEEE/ACM
 * Transactions on Networking 7(2), 1999 (the paper's algorithm, and the table of examples that encyclopaedias print).
 */
class CobsTest {
    @ParameterizedTest
    @CsvSource({
        "'', 01",
        "00, 01 01",
        "00 00, 01 01 01",
        "00 11 00, 01 02 11 01",
        "11 22 00 33, 03 11 22 02 33",
        "11 22 33 44, 05 11 22 33 44",
        "11 00 00 00, 02 11 01 01 01"
    })
    void encodesAndDecodesThePublishedExamples(String plain, String encoded) {
        assertEncoding(hex(plain), hex(encoded));
    }

    @Test
    void encodesBlocksOfTwoHundredFiftyFourAsPublished() {
        assertEncoding(run(0x01, 0xFE), join(hex("ff"), run(0x01, 0xFE), hex("01")));
        assertEncoding(run(0x00, 0xFE), join(hex("01 ff"), run(0x01, 0xFE), hex("01")));
        assertEncoding(run(0x01, 0xFF), join(hex("ff"), run(0x01, 0xFE), hex("02 ff")));
        assertEncoding(join(run(0x02, 0xFF), hex("00")), join(hex("ff"), run(0x02, 0xFF), hex("01 01")));
        assertEncoding(join(run(0x03, 0xFF), hex("00 01")), join(hex("fe"), run(0x03, 0xFF), hex("02 01")));
    }

    @Test
    void decodesAFullBlockWithoutTheTrailingOne() {
        assertArrayEquals(run(0x01, 0xFE), decode(join(hex("ff"), run(0x01, 0xFE))));
    }

    @Test
    void rejectsATruncatedBlock() {
        byte[] into = new byte[16];
        assertEquals(-1, Cobs.decode(hex("03 11"), 0, 2, into));
        assertEquals(-1, Cobs.decode(hex("ff"), 0, 1, into));
        assertEquals(-1, Cobs.decode(new byte[0], 0, 0, into));
    }

    @Test
    void bringsBackAnyBytesWithinThePromisedOverhead() {
        long seed = 41;
        Random random = new Random(seed);
        for (int round = 0; round < 2000; round++) {
            byte[] plain = new byte[random.nextInt(1100)];
            random.nextBytes(plain);
            if (round % 2 == 0) {
                for (int i = 0; i < plain.length; i++) {
                    plain[i] = (byte) (plain[i] % 3); // many zeros
                }
            }
            byte[] encoded = encode(plain);
            assertTrue(encoded.length <= plain.length + plain.length / 254 + 1, "seed " + seed + " round " + round);
            for (byte b : encoded) {
                assertTrue(b != 0, "seed " + seed + " round " + round);
            }
            assertArrayEquals(plain, decode(encoded), "seed " + seed + " round " + round);
        }
    }

    private static void assertEncoding(byte[] plain, byte[] encoded) {
        assertArrayEquals(encoded, encode(plain));
        assertArrayEquals(plain, decode(encoded));
    }

    private static byte[] encode(byte[] plain) {
        byte[] into = new byte[Cobs.maxEncodedLength(plain.length)];
        int length = Cobs.encode(plain, plain.length, into, 0);
        return Arrays.copyOf(into, length);
    }

    private static byte[] decode(byte[] encoded) {
        byte[] into = new byte[encoded.length];
        int length = Cobs.decode(encoded, 0, encoded.length, into);
        return Arrays.copyOf(into, length);
    }

    private static byte[] run(int first, int last) {
        byte[] bytes = new byte[last - first + 1];
        for (int i = 0; i < bytes.length; i++) {
            bytes[i] = (byte) (first + i);
        }
        return bytes;
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

    private static byte[] hex(String text) {
        return HexFormat.of().parseHex(text.replace(" ", ""));
    }
}
