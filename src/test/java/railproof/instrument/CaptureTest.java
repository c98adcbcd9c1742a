package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.Random;
import org.junit.jupiter.api.Test;
import railproof.base.VirtualClock;
import railproof.sim.device.BoardOutputs;
import railproof.sim.device.BoardSettings;
import railproof.sim.device.SimulatedBoard;
import railproof.wire.LinkTimeoutException;
import railproof.wire.MemoryLink;

/** Block capture, with fragments that get lost. */
class CaptureTest {
    private final VirtualClock clock = new VirtualClock(Instant.EPOCH);
    private final SimulatedBench.World world = new SimulatedBench.World();
    private final SimulatedBoard board = new SimulatedBoard(
            BoardSettings.standard("B-0001", SimulatedBench.CHANNELS, 7), world, BoardOutputs.none(), 0);

    @Test
    void capturesEveryScanAtItsInstant() throws Exception {
        FramedDaqBoard driver = new FramedDaqBoard("daq", new MemoryLink("daq", clock, board), "", () -> 5);
        driver.connect();

        CaptureBlock block = driver.capture(CaptureRequest.now(0b101, 50, 20_000));

        assertRamp(block);
    }

    @Test
    void asksAgainForLostFragmentsUntilTheBlockIsWhole() throws Exception {
        long seed = 20261125;
        Random random = new Random(seed);
        LossyPeer lossy = new LossyPeer(board, () -> random.nextDouble() < 0.3);
        FramedDaqBoard driver = new FramedDaqBoard("daq", new MemoryLink("daq", clock, lossy), "", () -> 5);
        driver.connect();

        CaptureBlock block = driver.capture(CaptureRequest.now(0b101, 50, 20_000));

        assertTrue(lossy.lost() > 10, "seed " + seed + " lost only " + lossy.lost());
        assertRamp(block);
    }

    @Test
    void givesUpWhenNoFragmentEverArrives() throws Exception {
        LossyPeer lossy = new LossyPeer(board, () -> true);
        FramedDaqBoard driver = new FramedDaqBoard("daq", new MemoryLink("daq", clock, lossy), "", () -> 5);
        driver.connect();

        LinkTimeoutException gaveUp =
                assertThrows(LinkTimeoutException.class, () -> driver.capture(CaptureRequest.now(0b101, 50, 2000)));

        assertTrue(gaveUp.toString().contains("2000 missing scans"), gaveUp.toString());
    }

    private static void assertRamp(CaptureBlock block) {
        // channel 2 shows the time in seconds, one step is 10 V / 65536; half a step of rounding
        double stepV = 10.0 / 65536;
        int[] ramp = block.codes(2);
        assertEquals(20_000, ramp.length);
        for (int i = 0; i < ramp.length; i++) {
            double timeS = (block.startTicks() + i * block.periodTicks()) * 1e-6;
            assertEquals(timeS, -5 + (ramp[i] + 32768) * stepV, 0.5001 * stepV, "scan " + i);
            assertEquals(16000, block.codes(0)[i]);
        }
    }

    @Test
    void keepsTheScansBeforeALoadEnableEdge() throws Exception {
        FramedDaqBoard driver = new FramedDaqBoard("daq", new MemoryLink("daq", clock, board), "", () -> 5);
        driver.connect();
        driver.arm(2000);

        driver.startCapture(CaptureRequest.on(new CaptureTrigger.LoadEnableEdge(), 0b100, 100, 500, 100));
        clock.sleepNs(300_000_000);
        driver.heartbeat();
        double edgeS = world.timeS;
        driver.loadEnable(true);
        CaptureBlock block = driver.finishCapture();

        assertEquals(100, block.triggerSample());
        double stepV = 10.0 / 65536;
        double atTriggerS = -5 + (block.codes(2)[100] + 32768) * stepV;
        // the first scan at or after the edge: within one period of 100 us and one step
        assertEquals(edgeS + 50e-6, atTriggerS, 50e-6 + stepV);
        assertTrue(-5 + (block.codes(2)[99] + 32768) * stepV <= edgeS + stepV);
    }
}
