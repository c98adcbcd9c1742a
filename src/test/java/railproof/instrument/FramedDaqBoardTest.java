package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import railproof.sim.FaultyLink;
import railproof.sim.LinkEffect;
import railproof.wire.LinkDownException;
import railproof.wire.LinkTimeoutException;

/** The host driver against the simulated board, over a link in memory and in virtual time. */
class FramedDaqBoardTest {
    private static final int OUT = 1;
    private static final int ALL = 7;

    @Test
    void connectsAndLearnsWhoTheBoardIs() throws Exception {
        SimulatedBench bench = new SimulatedBench();

        Identity identity = bench.driver.connect();

        assertEquals(new Identity("bench-sim", "B-0001", "sim 1.0", true), identity);
        assertEquals(3, bench.driver.capability().channelCount());
        assertEquals(1_000_000, bench.driver.capability().tickHz());
        assertEquals(BoardState.SAFE, bench.driver.status().state());
        assertEquals(new ChannelInfo(1, "raw", 16, 0, 65.536), bench.driver.channelInfo(1));
    }

    @Test
    void refusesABoardWithAnotherSerialNumber() {
        SimulatedBench bench = new SimulatedBench();
        FramedDaqBoard driver = new FramedDaqBoard(
                "daq", new railproof.wire.MemoryLink("daq", bench.clock, bench.board), "B-0002", () -> 1);

        InstrumentException refused = assertThrows(InstrumentException.class, driver::connect);

        assertEquals("daq: IDENTIFY: wanted serial number B-0002, got B-0001: another board", refused.getMessage());
    }

    @Test
    void readsMeansThatAgreeWithTheNominalScale() throws Exception {
        SimulatedBench bench = new SimulatedBench();
        bench.driver.connect();

        List<ChannelSums> sums = bench.driver.read(OUT, 100, 1000);

        // ideal channel: 5 V is code (5 + 10.24)/20.48 * 65536 - 32768 = 16000 exactly
        assertEquals(16000, sums.get(0).meanCode());
        assertEquals(0, sums.get(0).sumOfSquares());
        assertEquals(100, sums.get(0).samples());
        assertEquals(5.0, bench.driver.channelInfo(0).nominalV(16000), 1e-12);
    }

    @Test
    void readsSamplesAtTheirOwnInstants() throws Exception {
        SimulatedBench bench = new SimulatedBench();
        bench.driver.connect();

        ChannelSums ramp = bench.driver.read(ALL, 201, 5000).get(2);

        // channel 2 shows the time in seconds: 201 samples 5 ms apart span 1 s; one step is 10 V / 65536
        double stepV = 10.0 / 65536;
        assertEquals(1.0, (ramp.maxCode() - ramp.minCode()) * stepV, 1.01 * stepV);
        double middleV = (ramp.startTicks() + 500_000) * 1e-6;
        // the device clock starts at power-up, which is the origin of the world's time; rounding of each sample is
        // at most half a step, of the mean less
        assertEquals(middleV, -5 + (ramp.meanCode() + 32768) * stepV, 0.5 * stepV);
        // variance of a uniform ramp of n points spaced d: (n^2 - 1) d^2 / 12; rounding adds at most step^2/12
        double d = 0.005 / stepV;
        assertEquals((201.0 * 201 - 1) * d * d / 12, ramp.sumOfSquares() / 201, 2 * d);
    }

    @Test
    void feedsTheHeartbeatDuringAReadingLongerThanItsTimeOut() throws Exception {
        SimulatedBench bench = new SimulatedBench();
        bench.driver.connect();
        bench.driver.arm(200);

        bench.driver.read(OUT, 1000, 2000); // 2 s against a time-out of 0.2 s

        assertEquals(BoardState.ARMED, bench.driver.heartbeat().state());
    }

    @Test
    void switchesRelaysAndLoadEnableOnlyWhenArmed() throws Exception {
        SimulatedBench bench = new SimulatedBench();
        bench.driver.connect();

        InstrumentException refused = assertThrows(InstrumentException.class, () -> bench.driver.relays(3, 3));
        assertTrue(refused.toString().contains("NOT_ARMED"), refused.toString());
        assertEquals(0, bench.board.contacts());

        bench.driver.arm(500);
        bench.driver.relays(0b11, 0b01);
        bench.driver.loadEnable(true);

        assertEquals(0b01, bench.board.contacts());
        assertTrue(bench.board.loadEnabled());
        assertEquals(BoardState.ACTIVE, bench.driver.status().state());

        BoardStatus off = bench.driver.safeState();
        assertEquals(BoardState.SAFE, off.state());
        assertEquals(0, bench.board.contacts());
        assertFalse(bench.board.loadEnabled());
    }

    @Test
    void tripsTheBoardWhenTheHostFallsSilent() throws Exception {
        SimulatedBench bench = new SimulatedBench();
        bench.driver.connect();
        bench.driver.arm(500);
        bench.driver.relays(1, 1);
        bench.driver.loadEnable(true);

        bench.clock.sleepNs(2_000_000_000L);
        BoardStatus status = bench.driver.status();

        assertEquals(BoardState.TRIPPED, status.state());
        assertEquals(Set.of("HOST_SILENT"), status.faults());
        assertFalse(bench.board.loadEnabled());
        assertEquals(0, bench.board.contacts());
        assertTrue(bench.driver.faultText().startsWith("HOST_SILENT at tick "), bench.driver.faultText());
    }

    @Test
    void doesNotFeedTheHeartbeatWithAnythingButHeartbeats() throws Exception {
        SimulatedBench bench = new SimulatedBench();
        bench.driver.connect();
        bench.driver.arm(200);

        BoardStatus status = bench.driver.status();
        for (int k = 0; k < 10; k++) {
            bench.clock.sleepNs(50_000_000L);
            status = bench.driver.status();
        }

        assertEquals(BoardState.TRIPPED, status.state());
    }

    @Test
    void needsFaultsToBeClearedBeforeArmingAgain() throws Exception {
        SimulatedBench bench = new SimulatedBench();
        bench.driver.connect();
        bench.driver.arm(200);
        bench.clock.sleepNs(1_000_000_000L);

        InstrumentException refused = assertThrows(InstrumentException.class, () -> bench.driver.arm(200));
        assertTrue(refused.toString().contains("FAULT_LATCHED"), refused.toString());
        bench.driver.clearFaults();
        bench.driver.arm(200);

        assertEquals(BoardState.ARMED, bench.driver.status().state());
    }

    @Test
    void executesARelayCommandOnceWhenItsAnswerIsLost() throws Exception {
        long connectWrites = writesUntilRelay();
        SimulatedBench bench =
                new SimulatedBench(link -> FaultyLink.at(link, connectWrites, new LinkEffect.LostReply()));
        bench.driver.connect();
        bench.driver.arm(500);

        bench.driver.relays(1, 1);

        assertEquals(1, bench.board.executions());
        assertEquals(1, bench.board.contacts());
        assertTrue(bench.driver.linkHealth().endsWith("1 retries"), bench.driver.linkHealth());
    }

    @Test
    void executesACommandWhoseRequestWasLostOnTheRetry() throws Exception {
        long connectWrites = writesUntilRelay();
        SimulatedBench bench = new SimulatedBench(link -> FaultyLink.at(link, connectWrites, new LinkEffect.Silence()));
        bench.driver.connect();
        bench.driver.arm(500);

        bench.driver.relays(1, 1);

        assertEquals(1, bench.board.executions());
    }

    @Test
    void countsADuplicatedAnswerAsStray() throws Exception {
        long connectWrites = writesUntilRelay();
        SimulatedBench bench =
                new SimulatedBench(link -> FaultyLink.at(link, connectWrites, new LinkEffect.Duplicate()));
        bench.driver.connect();
        bench.driver.arm(500);

        bench.driver.relays(1, 1);
        bench.driver.status();

        assertTrue(bench.driver.linkHealth().startsWith("1 stray"), bench.driver.linkHealth());
    }

    /** The number of the write that is the first RELAY_SET after connect and arm. */
    private static long writesUntilRelay() throws Exception {
        FaultyLink[] counting = new FaultyLink[1];
        SimulatedBench bench = new SimulatedBench(link -> {
            counting[0] = FaultyLink.at(link, Long.MAX_VALUE, new LinkEffect.None());
            return counting[0];
        });
        bench.driver.connect();
        bench.driver.arm(500);
        return counting[0].writes() + 1;
    }

    @Test
    void survivesAnyRecoverableFaultAtAnyExchange() throws Exception {
        List<LinkEffect> effects = List.of(
                new LinkEffect.Silence(),
                new LinkEffect.LostReply(),
                new LinkEffect.Garbage(99),
                new LinkEffect.Truncate(5),
                new LinkEffect.Duplicate(),
                new LinkEffect.Delay(30_000_000),
                new LinkEffect.Delay(150_000_000));
        for (LinkEffect effect : effects) {
            for (int n = 2; n <= 30; n++) { // the first write is a lone delimiter without answer
                int nth = n;
                SimulatedBench bench = new SimulatedBench(link -> FaultyLink.at(link, nth, effect));
                job(bench);
                assertEquals(2, bench.board.executions(), effect + " at write " + n);
            }
        }
    }

    private static void job(SimulatedBench bench) throws Exception {
        bench.driver.connect();
        bench.driver.arm(1000);
        bench.driver.relays(1, 1);
        bench.driver.loadEnable(true);
        assertEquals(16000, bench.driver.read(OUT, 20, 1000).get(0).meanCode());
        CaptureBlock block = bench.driver.capture(CaptureRequest.now(ALL, 100, 2000));
        assertEquals(16000, block.codes(0)[1999]);
        assertFalse(bench.driver.safeState().loadEnabled());
    }

    @Test
    void reportsABoardThatNeverAnswers() {
        SimulatedBench bench = new SimulatedBench(link -> new FaultyLink(link, n -> new LinkEffect.Silence()));

        LinkTimeoutException timeout = assertThrows(LinkTimeoutException.class, bench.driver::connect);

        // 100 ms, then doubled twice: 100 + 200 + 400
        assertEquals("link daq: no usable reply to SAFE_STATE in 700 ms (3 tries)", timeout.getMessage());
    }

    @Test
    void reportsAPortThatIsGone() throws Exception {
        SimulatedBench bench = new SimulatedBench(link -> FaultyLink.at(link, 12, new LinkEffect.Gone()));

        assertThrows(LinkDownException.class, () -> job(bench));
        assertFalse(bench.driver.emergencySafe());
    }

    @Test
    void noticesThatTheBoardRestarted() throws Exception {
        SimulatedBench bench = new SimulatedBench();
        bench.driver.connect();
        bench.driver.arm(500);

        bench.board.powerCycle();
        InstrumentException noticed = assertThrows(InstrumentException.class, bench.driver::heartbeat);

        assertTrue(noticed.toString().contains("the board restarted"), noticed.toString());
    }

    @Test
    void noticesARestartDuringALongReading() throws Exception {
        SimulatedBench bench = new SimulatedBench();
        bench.driver.connect();
        bench.driver.startCapture(CaptureRequest.now(OUT, 1000, 1000));

        bench.board.powerCycle();

        assertThrows(InstrumentException.class, bench.driver::finishCapture);
    }

    @Test
    void switchesOffFromAnotherPathWithoutSession() throws Exception {
        SimulatedBench bench = new SimulatedBench();
        bench.driver.connect();
        bench.driver.arm(500);
        bench.driver.relays(1, 1);
        bench.driver.loadEnable(true);

        assertTrue(bench.driver.emergencySafe());

        assertFalse(bench.board.loadEnabled());
        bench.clock.sleepNs(30_000_000);
        assertEquals(BoardState.SAFE, bench.driver.status().state());
        assertEquals(0, bench.board.contacts());
    }

    @Test
    void leavesEverythingOffWhenClosedEvenIfInterrupted() throws Exception {
        SimulatedBench bench = new SimulatedBench();
        bench.driver.connect();
        bench.driver.arm(500);
        bench.driver.loadEnable(true);

        Thread.currentThread().interrupt();
        bench.driver.close();

        assertTrue(Thread.interrupted());
        assertFalse(bench.board.loadEnabled());
    }

    @Test
    void tripsOnItsOwnLimit() throws Exception {
        SimulatedBench bench = new SimulatedBench();
        bench.driver.connect();
        bench.driver.tripLimit(0, -32768, 20000, 2000);
        bench.driver.arm(500);
        bench.driver.loadEnable(true);

        bench.world.inputV[0] = 9.0;
        bench.clock.sleepNs(10_000_000);
        BoardStatus status = bench.driver.heartbeat();

        assertEquals(BoardState.TRIPPED, status.state());
        assertEquals(Set.of("LIMIT_HIGH"), status.faults());
        assertTrue(bench.driver.faultText().startsWith("LIMIT_HIGH on channel 0 at code 28800"));
    }

    @Test
    void reportsARelayThatDoesNotMove() throws Exception {
        SimulatedBench bench = new SimulatedBench();
        bench.driver.connect();
        bench.board.stickRelay(0, false);
        bench.driver.arm(500);

        InstrumentException stuck = assertThrows(InstrumentException.class, () -> bench.driver.relays(1, 1));

        assertTrue(stuck.toString().contains("RELAY_MISMATCH"), stuck.toString());
    }

    @Test
    void refusesToArmWithAnOpenInterlockAndTripsWhenItOpens() throws Exception {
        SimulatedBench bench = new SimulatedBench();
        bench.driver.connect();
        bench.board.input(0, false);
        InstrumentException open = assertThrows(InstrumentException.class, () -> bench.driver.arm(500));
        assertTrue(open.toString().contains("INTERLOCK"), open.toString());

        bench.board.input(0, true);
        bench.driver.arm(500);
        bench.driver.loadEnable(true);
        bench.board.input(0, false);

        assertFalse(bench.board.loadEnabled());
        assertEquals(Set.of("INTERLOCK_OPEN"), bench.driver.status().faults());
        assertThrows(InstrumentException.class, bench.driver::clearFaults, "cause still there");
    }
}
