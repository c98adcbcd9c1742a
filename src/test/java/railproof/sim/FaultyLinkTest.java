package railproof.sim;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.time.Instant;
import java.util.Arrays;
import org.junit.jupiter.api.Test;
import railproof.base.VirtualClock;
import railproof.wire.LinkDownException;
import railproof.wire.LinkException;
import railproof.wire.MemoryLink;

/** Each way a cable can go wrong, against an echo at the far end. */
class FaultyLinkTest {
    private static final byte[] SENT = {1, 2, 3, 4, 5, 6};

    private final VirtualClock clock = new VirtualClock(Instant.EPOCH);
    private final ByteArrayOutputStream heard = new ByteArrayOutputStream();

    private FaultyLink second(LinkEffect effect) throws LinkException, InterruptedException {
        MemoryLink echo = new MemoryLink("echo", clock, (bytes, reply) -> {
            heard.writeBytes(bytes);
            reply.accept(bytes);
        });
        FaultyLink link = FaultyLink.at(echo, 2, effect);
        link.write(SENT);
        assertArrayEquals(SENT, read(link)); // the first exchange is sound
        heard.reset();
        return link;
    }

    private static byte[] read(FaultyLink link) throws LinkException, InterruptedException {
        byte[] all = new byte[100];
        byte[] part = new byte[100];
        int length = 0;
        int count = link.read(part, 10_000_000);
        while (count > 0) {
            System.arraycopy(part, 0, all, length, count);
            length += count;
            count = link.read(part, 10_000_000);
        }
        return Arrays.copyOf(all, length);
    }

    @Test
    void silenceReachesNobodyAndTheNextExchangeIsSound() throws Exception {
        FaultyLink link = second(new LinkEffect.Silence());
        link.write(SENT);
        assertEquals(0, read(link).length);
        assertEquals(0, heard.size());

        link.write(SENT);
        assertArrayEquals(SENT, read(link));
        assertEquals(3, link.writes());
    }

    @Test
    void lostReplyReachesTheDevice() throws Exception {
        FaultyLink link = second(new LinkEffect.LostReply());
        link.write(SENT);
        assertEquals(0, read(link).length);
        assertEquals(6, heard.size());
    }

    @Test
    void garbageHasTheLengthOfTheReply() throws Exception {
        FaultyLink link = second(new LinkEffect.Garbage(5));
        link.write(SENT);
        byte[] got = read(link);
        assertEquals(6, got.length);
        assertFalse(Arrays.equals(SENT, got));
    }

    @Test
    void truncateAndDuplicateDoWhatTheySay() throws Exception {
        FaultyLink cut = second(new LinkEffect.Truncate(4));
        cut.write(SENT);
        assertArrayEquals(new byte[] {1, 2, 3, 4}, read(cut));

        FaultyLink twice = second(new LinkEffect.Duplicate());
        twice.write(SENT);
        assertArrayEquals(new byte[] {1, 2, 3, 4, 5, 6, 1, 2, 3, 4, 5, 6}, read(twice));
    }

    @Test
    void delayBringsTheReplyLaterNotEarlier() throws Exception {
        FaultyLink link = second(new LinkEffect.Delay(50_000_000));
        long startNs = clock.nowNs();
        link.write(SENT);
        assertEquals(0, link.read(new byte[10], 40_000_000));
        assertEquals(6, link.read(new byte[10], 40_000_000));
        assertEquals(startNs + 50_000_000, clock.nowNs());
    }

    @Test
    void shortWriteTakesTheFirstBytesAndThePortIsGone() throws Exception {
        FaultyLink link = second(new LinkEffect.ShortWrite(2));
        assertThrows(LinkDownException.class, () -> link.write(SENT));
        assertEquals(2, heard.size());
        assertThrows(LinkDownException.class, () -> link.read(new byte[1], 0));
        assertFalse(link.emergencyWrite(SENT));
    }

    @Test
    void goneIsForGoodAndOtherFaultsLetEmergenciesPass() throws Exception {
        FaultyLink gone = second(new LinkEffect.Gone());
        assertThrows(LinkDownException.class, () -> gone.write(SENT));
        assertThrows(LinkDownException.class, () -> gone.write(SENT));
        assertFalse(gone.emergencyWrite(SENT));

        FaultyLink silent = second(new LinkEffect.Silence());
        silent.write(SENT);
        assertTrue(silent.emergencyWrite(SENT));
        assertEquals(6, heard.size());
    }
}
