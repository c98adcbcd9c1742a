package railproof.rig;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import org.junit.jupiter.api.Test;
import railproof.base.VirtualClock;
import railproof.run.RunOutcome;
import railproof.wire.MemoryLink;

class GuardedLinkTest {
    private final VirtualClock clock = new VirtualClock(Instant.EPOCH);
    private final StopSignal stop = new StopSignal();
    private final RigGuard guard = new RigGuard(clock);
    private final GuardedLink link = new GuardedLink(new MemoryLink("load", clock, (bytes, reply) -> {}), stop, guard);

    @Test
    void aSilentDeviceCostsExactlyTheTimeoutAsked() throws Exception {
        assertEquals(0, link.read(new byte[8], 730_000_000L));

        assertEquals(730_000_000L, clock.nowNs());
    }

    @Test
    void aStopEndsAWaitAtTheNextSlice() {
        stop.raise(RunOutcome.End.STOPPED, "enough");

        StopRequestedException ended =
                assertThrows(StopRequestedException.class, () -> link.read(new byte[8], 10_000_000_000L));
        assertEquals("enough", ended.stopCause().words());
        assertTrue(clock.nowNs() <= 20_000_000L);
    }

    @Test
    void makingSafeIsNotStopped() throws Exception {
        stop.raise(RunOutcome.End.STOPPED, "enough");
        guard.makingSafe();

        link.write(new byte[] {1});
        assertEquals(0, link.read(new byte[8], 50_000_000L));
    }
}
