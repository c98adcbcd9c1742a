package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import railproof.wire.MemoryLink;

/** Captures that wait for something, with what came before it. */
class CaptureTriggerTest {
    private static final int TIME = 0b100;
    private static final double STEP_V = 10.0 / 65536;
    private static final CaptureTrigger BY_HAND = new CaptureTrigger.Host();

    private final SimulatedBench bench = new SimulatedBench();
    private final FramedDaqBoard driver = bench.driver;

    @BeforeEach
    void connect() throws Exception {
        driver.connect();
    }

    /** Channel 2 shows the time in seconds. */
    private static double timeS(CaptureBlock block, int sample) {
        return -5 + (block.codes(2)[sample] + 32768) * STEP_V;
    }

    private static int code(double timeS) {
        return (int) Math.round((timeS + 5) / STEP_V) - 32768;
    }

    @Test
    void aLevelIsCrossedUpwardsAtTheTriggerSample() throws Exception {
        CaptureTrigger half = new CaptureTrigger.Level(2, code(0.5), true);
        driver.startCapture(CaptureRequest.on(half, TIME | 1, 200, 1000, 400));

        CaptureBlock block = driver.finishCapture();

        assertEquals(400, block.triggerSample());
        assertEquals(1000, block.codes(2).length);
        assertTrue(block.codes(2)[400] >= code(0.5) && block.codes(2)[399] < code(0.5));
        assertEquals(400 * 200e-6, timeS(block, 400) - timeS(block, 0), 2 * STEP_V);
    }

    @Test
    void aLevelIsCrossedDownwards() throws Exception {
        CaptureTrigger low = new CaptureTrigger.Level(0, 10_000, false);
        driver.startCapture(CaptureRequest.on(low, TIME | 1, 200, 1000, 100));
        bench.clock.sleepNs(100_000_000);
        driver.status(); // takes the board along: so far the voltage was high
        bench.world.inputV[0] = 1.0; // 3200 steps of 312.5 uV

        CaptureBlock block = driver.finishCapture();

        assertEquals(16000, block.codes(0)[99]);
        assertEquals(3200, block.codes(0)[100]);
    }

    @Test
    void theHandTriggersWhileSomethingElseGoesOn() throws Exception {
        driver.arm(2000);
        driver.startCapture(CaptureRequest.on(BY_HAND, TIME, 100, 2000, 500));
        bench.clock.sleepNs(200_000_000);
        driver.heartbeat();
        double handS = bench.clock.nowNs() / 1e9;
        driver.triggerCapture();
        driver.loadEnable(true);

        CaptureBlock block = driver.finishCapture();

        assertEquals(500, block.triggerSample());
        // the first sample at or after the hand: within one period of 100 us and half a step of rounding
        assertTrue(timeS(block, 500) >= handS - STEP_V / 2 && timeS(block, 500) <= handS + 100e-6 + STEP_V / 2);
        assertEquals(BoardState.ACTIVE, driver.heartbeat().state());
    }

    @Test
    void aTriggerThatComesEarlyIsTakenAllTheSame() throws Exception {
        driver.startCapture(CaptureRequest.on(BY_HAND, TIME, 100, 2000, 1500));
        bench.clock.sleepNs(20_000_000);
        double handS = bench.clock.nowNs() / 1e9;
        driver.triggerCapture();

        CaptureBlock block = driver.finishCapture();

        assertTrue(block.triggerSample() < 1500, block.triggerSample() + " samples before the trigger");
        assertEquals(2000, block.codes(2).length);
        assertEquals(handS, timeS(block, block.triggerSample()), 100e-6 + STEP_V);
    }

    @Test
    void aTripIsCapturedWithWhatCameBefore() throws Exception {
        driver.arm(200);
        driver.startCapture(CaptureRequest.on(new CaptureTrigger.Fault(), TIME, 1000, 100, 50));
        bench.clock.sleepNs(400_000_000); // nobody feeds: the board trips after 200 ms

        CaptureBlock block = driver.finishCapture();

        assertEquals(50, block.triggerSample());
        assertEquals(BoardState.TRIPPED, driver.status().state());
    }

    @Test
    void saysWhenTheTriggerDoesNotCome() throws Exception {
        driver.startCapture(new CaptureRequest(TIME, 100, 100, 0, BY_HAND, Duration.ofMillis(300)));

        InstrumentException never = assertThrows(InstrumentException.class, driver::finishCapture);

        assertTrue(never.toString().contains("ABORTED"), never.toString());
    }

    @Test
    void theBoardCannotBeReadUntilTheCaptureIsGivenUp() throws Exception {
        driver.startCapture(CaptureRequest.on(BY_HAND, TIME, 100, 100, 0));
        InstrumentException busy = assertThrows(InstrumentException.class, () -> driver.read(TIME, 10, 100));
        assertTrue(busy.toString().contains("BUSY"), busy.toString());

        driver.abortCapture();

        assertEquals(10, driver.read(TIME, 10, 100).get(0).samples());
        assertThrows(IllegalStateException.class, driver::finishCapture);
        driver.abortCapture();
    }

    @Test
    void anotherCaptureReplacesOneThatWasNeverFinished() throws Exception {
        driver.startCapture(CaptureRequest.on(BY_HAND, TIME, 100, 100, 0));

        CaptureBlock block = driver.capture(CaptureRequest.now(TIME, 100, 50));

        assertEquals(50, block.codes(2).length);
        assertEquals(0, block.triggerSample());
    }

    @Test
    void whatAHostLeftRunningEndsWithTheNextContact() throws Exception {
        driver.startCapture(CaptureRequest.on(BY_HAND, TIME, 100, 100, 0));
        FramedDaqBoard next =
                new FramedDaqBoard("next", new MemoryLink("next", bench.clock, bench.board), "B-0001", () -> 9);

        next.connect();

        assertEquals(10, next.read(TIME, 10, 100).get(0).samples());
    }

    @Test
    void refusesWhatNoBoardCanDo() {
        assertThrows(IllegalArgumentException.class, () -> CaptureRequest.now(0, 100, 100));
        assertThrows(IllegalArgumentException.class, () -> CaptureRequest.now(1, 0, 100));
        assertThrows(IllegalArgumentException.class, () -> CaptureRequest.on(BY_HAND, 1, 100, 100, 100));
        assertThrows(
                IllegalArgumentException.class,
                () -> CaptureRequest.on(new CaptureTrigger.Immediate(), 1, 100, 100, 1));
        assertThrows(
                IllegalArgumentException.class,
                () -> CaptureRequest.on(new CaptureTrigger.Level(1, 0, true), 1, 100, 100, 1));
        assertThrows(IllegalArgumentException.class, () -> new CaptureTrigger.Level(0, 32768, true));
        assertThrows(
                IllegalArgumentException.class,
                () -> new CaptureRequest(1, 100, 100, 0, BY_HAND, Duration.ofMinutes(11)));
    }
}
