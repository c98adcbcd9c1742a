package railproof.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.OptionalLong;
import java.util.function.Consumer;
import org.junit.jupiter.api.Test;
import railproof.base.VirtualClock;
import railproof.wire.MemoryLink;
import railproof.wire.Peer;

/** A bench that people watch, on machines fast and slow. The wall here is a clock that the test moves. */
final class PacedClockTest {
    private static final long MS = 1_000_000L;

    private final VirtualClock wall = new VirtualClock(Instant.EPOCH);

    /** A device that takes so many milliseconds of wall time to work out one millisecond. */
    private Peer device(double wallPerMs) {
        return new Peer() {
            private long atNs;

            @Override
            public void receive(byte[] bytes, Consumer<byte[]> reply) {
                reply.accept(bytes);
            }

            @Override
            public void advanceTo(long nowNs, Consumer<byte[]> reply) {
                pass(Math.round((nowNs - atNs) * wallPerMs));
                atNs = nowNs;
            }

            @Override
            public OptionalLong nextEventNs() {
                return OptionalLong.of(atNs + 20 * MS);
            }
        };
    }

    private void pass(long durationNs) {
        try {
            wall.sleepNs(durationNs);
        } catch (InterruptedException e) {
            throw new IllegalStateException(e);
        }
    }

    /** Longest stretch of simulated time between two looks of a reader that waits 20 ms at most. */
    private long longestStretchNs(PacedClock clock, Peer device) throws Exception {
        try (MemoryLink link = new MemoryLink("bench", clock, clock.paced(device))) {
            long longestNs = 0;
            long lastNs = clock.nowNs();
            for (int look = 0; look < 100; look++) {
                link.read(new byte[16], 20 * MS);
                longestNs = Math.max(longestNs, clock.nowNs() - lastNs);
                lastNs = clock.nowNs();
            }
            return longestNs;
        }
    }

    @Test
    void aMachineThatKeepsUpKeepsThePace() throws Exception {
        PacedClock clock = new PacedClock(wall, 1);

        longestStretchNs(clock, device(0.3));

        assertEquals(0, clock.behindNs());
        assertEquals(wall.nowNs(), clock.nowNs());
    }

    @Test
    void aMachineThatIsTooSlowGetsSlowerTimeAndNoSilence() throws Exception {
        PacedClock clock = new PacedClock(wall, 1);

        long longestNs = longestStretchNs(clock, device(4));

        // a wait, and what the clock may make up for at each of a read's two looks at the device
        assertTrue(longestNs <= 60 * MS, "silent for " + longestNs / MS + " ms of simulated time");
        assertTrue(clock.behindNs() > 2000 * MS, "only " + clock.behindNs() / MS + " ms behind");
        assertEquals(wall.nowNs(), clock.nowNs() + clock.behindNs());
    }

    @Test
    void silenceOutsideTheBenchTakesItsFullTime() {
        PacedClock clock = new PacedClock(wall, 2);

        pass(700 * MS);

        assertEquals(1400 * MS, clock.nowNs());
    }

    @Test
    void theClockStandsWhileTheBenchIsWorkedOutWhoeverAsks() {
        PacedClock clock = new PacedClock(wall, 1);
        pass(5 * MS);
        clock.work(() -> {
            clock.work(() -> pass(300 * MS));
            pass(300 * MS);
            assertEquals(5 * MS, clock.nowNs());
        });

        assertEquals((5 + PacedClock.CATCH_UP_MS) * MS, clock.nowNs());
    }

    @Test
    void aDeviceBehindAPacedClockAnswersAsBefore() throws Exception {
        PacedClock clock = new PacedClock(wall, 1);
        try (MemoryLink link = new MemoryLink("bench", clock, clock.paced(device(0)))) {
            link.write("hello".getBytes(StandardCharsets.US_ASCII));
            byte[] into = new byte[16];

            int count = link.read(into, 20 * MS);

            assertEquals("hello", new String(into, 0, count, StandardCharsets.US_ASCII));
        }
    }

    @Test
    void refusesAPaceThatIsNone() {
        assertThrows(IllegalArgumentException.class, () -> new PacedClock(wall, 0));
        assertThrows(IllegalArgumentException.class, () -> new PacedClock(wall, Double.NaN));
    }
}
