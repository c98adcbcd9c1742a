package railproof.wire;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.util.Random;
import java.util.zip.CRC32;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import railproof.base.SystemClock;

/** How fast bytes become frames. Prints; asserts nothing on time. */
@Tag("bench")
class FrameDecoderBenchTest {
    @Test
    void decodesSampleFrames() {
        for (String kind : new String[] {"random codes", "small codes (many zero bytes)"}) {
            byte[] wire = wire(kind.startsWith("small"));
            FrameDecoder decoder = new FrameDecoder(1024);
            long[] frames = {0};
            double bestBytesPerS = 0;
            for (int round = 0; round < 30; round++) {
                long startNs = SystemClock.INSTANCE.nowNs();
                frames[0] = 0;
                for (int at = 0; at < wire.length; at += 8192) {
                    decoder.feed(wire, at, Math.min(8192, wire.length - at), d -> frames[0]++);
                }
                bestBytesPerS =
                        Math.max(bestBytesPerS, wire.length / ((SystemClock.INSTANCE.nowNs() - startNs) * 1e-9));
                assertEquals(10_000, frames[0]);
            }
            double sumBytesPerS = checksumAlone(wire);
            System.getLogger("bench")
                    .log(
                            System.Logger.Level.INFO,
                            kind + ": " + Math.round(bestBytesPerS / 1e6) + " MB/s; the checksum alone "
                                    + Math.round(sumBytesPerS / 1e6) + " MB/s, "
                                    + Math.round(10 * sumBytesPerS / bestBytesPerS) / 10.0 + " times as fast");
        }
    }

    /** What the library's CRC-32 does with the same bytes in pieces of a frame's length: no decoder can be faster. */
    private static double checksumAlone(byte[] wire) {
        double bestBytesPerS = 0;
        long mixed = 0;
        for (int round = 0; round < 30; round++) {
            long startNs = SystemClock.INSTANCE.nowNs();
            for (int at = 0; at < wire.length; at += 1024) {
                CRC32 crc = new CRC32();
                crc.update(wire, at, Math.min(1024, wire.length - at));
                mixed += crc.getValue();
            }
            bestBytesPerS = Math.max(bestBytesPerS, wire.length / ((SystemClock.INSTANCE.nowNs() - startNs) * 1e-9));
        }
        assertTrue(mixed > 0);
        return bestBytesPerS;
    }

    private static byte[] wire(boolean small) {
        Random random = new Random(1);
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        for (int seq = 0; seq < 10_000; seq++) {
            byte[] payload = new byte[1012];
            random.nextBytes(payload);
            for (int i = 1; small && i < payload.length; i += 2) {
                payload[i] = 0;
            }
            out.writeBytes(FrameEncoder.wire(new Frame(FrameKind.DATA, 0, seq, 0x81, payload)));
        }
        return out.toByteArray();
    }
}
