package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import railproof.sim.device.AnalogSource;
import railproof.wire.Link;
import railproof.wire.LinkDownException;
import railproof.wire.LinkException;

/**
 * The host's driver against the reference firmware, over a serial cable. The subclasses say where the firmware runs. Times
 * are asserted in ticks of the device only; waits end when what is awaited has come.
 */
@Tag("process")
@Timeout(value = 120, unit = TimeUnit.SECONDS)
abstract class EmulatedBoardTest {
    static final int LOAD = 1;
    static final int CONTACTS = 2;
    private static final double STEP_V = 20.48 / 65536;

    /** Channel c shows c/8 V plus the time in seconds, modulo 2 s. */
    static final class Ramps implements AnalogSource {
        private double timeS;

        @Override
        public void advanceTo(double nowS) {
            timeS = nowS;
        }

        @Override
        public double voltageV(int channel) {
            return channel / 8.0 + timeS % 2;
        }
    }

    final EmulatedBoard board;
    final Link link;
    final FramedDaqBoard driver;

    EmulatedBoardTest(EmulatedBoard board) throws Exception {
        this.board = board;
        int[] nonce = {4000};
        try {
            link = board.open();
            driver = new FramedDaqBoard("daq", link, "B-0001", () -> nonce[0]++);
            driver.connect();
        } catch (LinkException | InstrumentException | InterruptedException e) {
            board.close(); // what was started must not outlive a test that could not begin
            throw e;
        }
    }

    @AfterEach
    void switchOff() throws Exception {
        board.close();
    }

    static void await(String what, Callable<Boolean> seen) throws Exception {
        for (int tries = 0; tries < 2000; tries++) {
            if (seen.call()) {
                return;
            }
            TimeUnit.MILLISECONDS.sleep(5);
        }
        throw new AssertionError("never came: " + what);
    }

    final void activate(int timeoutMs) throws Exception {
        driver.arm(timeoutMs);
        driver.relays(3, 1);
        driver.loadEnable(true);
        await("outputs on", () -> board.outputsOutside() == (LOAD | CONTACTS));
    }

    /**
     * Has the bench line answer for every scan. Waits until it does: scans taken before the word has arrived are answered
     * by levels, and a capture that begins with such would wait for answers that never come.
     */
    final void answerEveryScan() throws Exception {
        board.bench().answerEveryScan();
        await("scans asked for", () -> {
            driver.read(1, 1, 100);
            return board.bench().scansGiven() > 0;
        });
    }

    final void awaitOff() throws Exception {
        await("outputs off", () -> board.outputsOutside() == 0);
    }

    @Test
    void saysWhatItIs() throws Exception {
        assertEquals(32, driver.capability().channelCount());
        assertEquals(new ChannelInfo(31, "in 31", 16, -10.24, 10.24), driver.channelInfo(31));
        assertEquals(BoardState.SAFE, driver.status().state());
        assertEquals(0, board.outputsOutside());
    }

    @Test
    void goesOffByItselfWhenTheHostFallsSilent() throws Exception {
        activate(1000);
        driver.heartbeat();
        long fedTicks = ticksNow();

        awaitOff();

        BoardStatus status = driver.status();
        assertEquals(BoardState.TRIPPED, status.state());
        assertTrue(driver.faultText().startsWith("HOST_SILENT"), driver.faultText());
        long silentTicks = Long.parseLong(driver.faultText().replaceAll(".*tick ", "")) - fedTicks;
        // time-out and 5 ms (PROTOCOL.md section 8), by the device's own clock. The reading of the clock came after the
        // feeding and before the trip, so the difference can be anything less
        assertTrue(silentTicks > 0 && silentTicks <= 1_005_000, silentTicks + " ticks");
    }

    private long ticksNow() throws Exception {
        return driver.readClock().orElseThrow().rxTicks();
    }

    @Test
    void goesOffWhenALimitIsBroken() throws Exception {
        board.bench().hold(7, 1.0);
        driver.tripLimit(7, -32768, (int) (2.0 / STEP_V), 2000);
        activate(2000);

        board.bench().hold(7, 2.1);

        awaitOff();
        assertTrue(driver.faultText().contains("LIMIT_HIGH on channel 7 at code 6720"), driver.faultText());
    }

    @Test
    void goesOffWhenTheInterlockOpens() throws Exception {
        activate(2000);

        board.bench().close(0xFFFE);

        awaitOff();
        assertTrue(driver.faultText().startsWith("INTERLOCK_OPEN"), driver.faultText());
        InstrumentException stays = assertThrows(InstrumentException.class, driver::clearFaults);
        assertTrue(stays.toString().contains("INTERLOCK_OPEN"), stays.toString());
    }

    @Test
    void aStuckContactIsNoticed() throws Exception {
        driver.arm(2000);
        board.bench().stick(2, 0);

        assertThrows(InstrumentException.class, () -> driver.relays(2, 2));

        assertTrue(driver.faultText().startsWith("RELAY_MISMATCH"), driver.faultText());
        awaitOff();
    }

    @Test
    void readsHeldVoltages() throws Exception {
        board.bench().hold(0, 5.0);
        board.bench().hold(31, -3.0);
        // three answers of the bench line are not waited for: read until they are in
        await("voltages", () -> driver.read(1 << 31, 1, 100).get(0).meanCode() != 0);

        List<ChannelSums> sums = driver.read(1 << 31 | 1, 500, 50);

        assertEquals(16000, sums.get(0).meanCode());
        assertEquals(-9600, sums.get(1).meanCode());
        assertEquals(0, sums.get(0).sumOfSquares());
    }

    @Test
    void theConverterShowsTheSourceSampleBySample() throws Exception {
        answerEveryScan();

        CaptureBlock block = driver.capture(CaptureRequest.now(0b100101, 200, 2000));

        for (int i = 0; i < 2000; i++) {
            double timeS = (block.startTicks() + i * block.periodTicks()) * 1e-6;
            for (int channel : new int[] {0, 2, 5}) {
                // half a step of rounding; at the instant where the ramp falls back, either value
                double shownV = block.codes(channel)[i] * STEP_V;
                double idealV = channel / 8.0 + timeS % 2;
                double missV = Math.abs(shownV - idealV);
                assertTrue(missV <= 0.5001 * STEP_V || missV >= 1.999, "scan " + i + " channel " + channel);
            }
        }
    }

    @Test
    void capturesAnEdgeWithWhatCameBefore() throws Exception {
        answerEveryScan();
        driver.arm(2000);
        driver.startCapture(CaptureRequest.on(new CaptureTrigger.LoadEnableEdge(), 1, 100, 1000, 300));
        TimeUnit.MILLISECONDS.sleep(50);
        driver.loadEnable(true);

        CaptureBlock block = driver.finishCapture();

        assertEquals(1000, block.codes(0).length);
        assertEquals(300, block.triggerSample());
        assertTrue(block.codes(0)[999] != block.codes(0)[0]);
        driver.safeState();
    }

    @Test
    void capturesTheCrossingOfALevel() throws Exception {
        board.bench().hold(4, 1.0);
        await("voltage", () -> driver.read(1 << 4, 1, 100).get(0).meanCode() == 3200);
        CaptureTrigger rise = new CaptureTrigger.Level(4, 4000, true);
        driver.startCapture(CaptureRequest.on(rise, 1 << 4, 100, 600, 200));
        TimeUnit.MILLISECONDS.sleep(40); // more than the 20 ms before the trigger
        board.bench().hold(4, 2.0);

        CaptureBlock block = driver.finishCapture();

        assertEquals(200, block.triggerSample());
        for (int i = 0; i < 600; i++) {
            assertEquals(i < 200 ? 3200 : 6400, block.codes(4)[i], "scan " + i);
        }
    }

    @Test
    void capturesWhatTheHandTriggers() throws Exception {
        driver.startCapture(CaptureRequest.on(new CaptureTrigger.Host(), 1, 100, 500, 100));
        long beforeTicks = ticksNow();
        driver.triggerCapture();
        long afterTicks = ticksNow();

        CaptureBlock block = driver.finishCapture();

        long triggerTicks = block.startTicks() + 100L * block.triggerSample();
        assertTrue(block.triggerSample() <= 100, block.triggerSample() + " scans before the trigger");
        assertTrue(triggerTicks >= beforeTicks && triggerTicks <= afterTicks + 100, beforeTicks + " " + triggerTicks);
    }

    @Test
    void streamsScanAfterScanWithoutAGap() throws Exception {
        board.bench().hold(0, 1.0);
        board.bench().hold(31, -1.0);
        await("voltages", () -> driver.read(1 << 31, 1, 100).get(0).meanCode() == -3200);
        BoardStream stream = driver.stream(1 << 31 | 1, 500); // 2000 scans, 8 kB in a second
        long scans = 0;
        for (int tries = 0; scans < 20_000 && tries < 1000; tries++) {
            Optional<BoardStream.Piece> piece = stream.next(200_000_000);
            if (piece.isPresent()) {
                assertEquals(scans, piece.get().firstScan());
                assertEquals(0, piece.get().lostBefore());
                for (int i = 0; i < piece.get().scans(); i++) {
                    assertEquals(3200, piece.get().codes(0)[i]);
                    assertEquals(-3200, piece.get().codes(1)[i]);
                }
                scans += piece.get().scans();
            }
        }
        BoardStream.Totals totals = stream.stop();

        assertTrue(scans >= 20_000, scans + " scans");
        assertEquals(0, totals.dropped());
        assertTrue(totals.scans() >= scans, totals + " after " + scans);
        assertEquals(1, driver.read(1, 1, 100).get(0).samples());
    }

    @Test
    void aStreamWithoutCreditStopsAndShowsTheGapWhenItGoesOn() throws Exception {
        BoardStream stream = driver.stream(-1, 1000); // 32 channels: memory for 4096 scans, 4.1 s
        await("credit used up and memory full", () -> {
            driver.status();
            // an answer that took too long tells no time: asked again
            return driver.readClock()
                    .map(read -> read.rxTicks() - stream.startTicks() > 7_000_000)
                    .orElse(false);
        });
        long next = 0;
        long lost = 0;
        for (int tries = 0; lost == 0 && tries < 1000; tries++) {
            Optional<BoardStream.Piece> piece = stream.next(200_000_000);
            if (piece.isPresent()) {
                assertEquals(next + piece.get().lostBefore(), piece.get().firstScan());
                lost += piece.get().lostBefore();
                next = piece.get().firstScan() + piece.get().scans();
            }
        }

        assertTrue(lost > 0, "a gap must show");
        assertTrue(stream.stop().dropped() >= lost);
    }

    @Test
    void keepsARecordAndTestsItself() throws Exception {
        BoardUpkeep upkeep = driver.upkeep();
        assertTrue(upkeep.read().isEmpty());
        byte[] record = new byte[upkeep.room()];
        new Random(17).nextBytes(record);

        long first = upkeep.write(record);
        long second = upkeep.write(new byte[] {1, 2, 3});

        assertEquals(first + 1, second);
        assertArrayEquals(new byte[] {1, 2, 3}, upkeep.read().orElseThrow().bytes());
        assertEquals(second + 1, upkeep.write(record));
        BoardUpkeep.StoredRecord read = upkeep.read().orElseThrow();
        assertArrayEquals(record, read.bytes());
        assertEquals(second + 1, read.generation());
        int all = BoardUpkeep.OUTPUTS | BoardUpkeep.CONVERTER | BoardUpkeep.STORAGE | BoardUpkeep.MEMORY;
        assertEquals(new BoardUpkeep.SelfTest(all, 0), upkeep.selfTest(-1));
        driver.arm(2000);
        assertThrows(InstrumentException.class, () -> upkeep.write(record));
        assertThrows(IllegalArgumentException.class, () -> upkeep.write(new byte[0]));
    }

    @Test
    void theCountersAreCleanAfterManyExchanges() throws Exception {
        for (int k = 0; k < 500; k++) {
            driver.status();
        }
        BoardCounters counters = driver.counters();

        assertTrue(counters.clean(), counters.toString());
        assertTrue(counters.rxFrames() > 500, counters.toString());
    }

    @Test
    void damagedBytesAreCountedAndCostNothingElse() throws Exception {
        link.write(new byte[] {1, 2, 3, 4, 0, 5, 5, 0, 2, 0x11, 0});
        BoardCounters counters = driver.counters();

        assertEquals(3, counters.crcErrors() + counters.cobsErrors() + counters.malformed(), counters.toString());
        assertEquals(BoardState.SAFE, driver.status().state());
    }

    @Test
    void aPulledCableSwitchesOff() throws Exception {
        activate(300);

        board.pull();

        awaitOff();
        assertThrows(LinkDownException.class, driver::status);
    }

    @Test
    void theBoardSurvivesAHostThatIsGone() throws Exception {
        activate(300);
        link.close();

        awaitOff();
        assertTrue(board.alive());
    }
}
