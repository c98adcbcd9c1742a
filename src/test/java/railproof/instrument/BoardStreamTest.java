package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import railproof.base.VirtualClock;
import railproof.sim.device.BoardOutputs;
import railproof.sim.device.BoardSettings;
import railproof.sim.device.SimulatedBoard;
import railproof.wire.MemoryLink;
import railproof.wire.Peer;

/** Streams of samples from the simulated board, with credit that runs out and frames that get lost. */
class BoardStreamTest {
    private static final long MS = 1_000_000;
    /** Channel 2 shows the time in seconds, one step is 10 V / 65536. */
    private static final double STEP_V = 10.0 / 65536;

    private final VirtualClock clock = new VirtualClock(Instant.EPOCH);
    private final SimulatedBench.World world = new SimulatedBench.World();
    private final SimulatedBoard board = new SimulatedBoard(
            BoardSettings.standard("B-0001", SimulatedBench.CHANNELS, 7), world, BoardOutputs.none(), 0);

    private FramedDaqBoard connect(Peer peer) throws Exception {
        int[] nonce = {5};
        FramedDaqBoard driver = new FramedDaqBoard("daq", new MemoryLink("daq", clock, peer), "", () -> nonce[0]++);
        driver.connect();
        return driver;
    }

    private static void assertInstants(BoardStream stream, BoardStream.Piece piece, int position) {
        for (int i = 0; i < piece.scans(); i++) {
            double timeS = (stream.startTicks() + (piece.firstScan() + i) * 50) * 1e-6;
            double shownV = Math.min(timeS, 5 - STEP_V); // the end of the range
            assertEquals(shownV, -5 + (piece.codes(position)[i] + 32768) * STEP_V, 0.5001 * STEP_V);
        }
    }

    @Test
    void everyScanComesWithItsInstantAndNoneIsMissing() throws Exception {
        FramedDaqBoard driver = connect(board);
        BoardStream stream = driver.stream(0b101, 50);
        long scans = 0;
        while (scans < 100_000) {
            BoardStream.Piece piece = stream.next(200 * MS).orElseThrow();
            assertEquals(scans, piece.firstScan());
            assertEquals(0, piece.lostBefore());
            assertInstants(stream, piece, 1);
            scans += piece.scans();
        }

        BoardStream.Totals totals = stream.stop();

        assertEquals(0, totals.dropped());
        assertTrue(totals.scans() >= scans, totals + " after " + scans);
        assertEquals(1, driver.read(1, 1, 100).get(0).samples(), "the converter is free again");
    }

    @Test
    void slowScansComeWithinATenthOfASecond() throws Exception {
        FramedDaqBoard driver = connect(board);
        BoardStream stream = driver.stream(0b100, 10_000); // 100 scans in a second, 506 fit a frame
        long fromNs = clock.nowNs();

        BoardStream.Piece first = stream.next(1000 * MS).orElseThrow();

        assertTrue(clock.nowNs() - fromNs <= 100 * MS, clock.nowNs() - fromNs + " ns");
        assertTrue(first.scans() >= 5 && first.scans() <= 6, first.scans() + " scans");
    }

    @Test
    void aHostThatDoesNotReadLosesScansAndSeesTheGap() throws Exception {
        FramedDaqBoard driver = connect(board);
        BoardStream stream = driver.stream(0b101, 50);
        // 32 frames of 253 scans by the first credit, then memory for 65536 scans: full after 3.7 s
        for (int k = 0; k < 50; k++) {
            clock.sleepNs(100 * MS);
            driver.status();
        }
        long next = 0;
        long lost = 0;
        while (lost == 0) {
            BoardStream.Piece piece = stream.next(200 * MS).orElseThrow();
            assertEquals(next + piece.lostBefore(), piece.firstScan());
            assertInstants(stream, piece, 1);
            lost = piece.lostBefore();
            next = piece.firstScan() + piece.scans();
        }

        assertEquals(stream.stop().dropped(), lost);
    }

    @Test
    void framesThatTheLineLosesShowAsGapsAndDoNotStopTheStream() throws Exception {
        int[] longFrames = {0};
        LossyPeer lossy = new LossyPeer(board, () -> ++longFrames[0] % 7 == 0);
        FramedDaqBoard driver = connect(lossy);
        BoardStream stream = driver.stream(0b101, 50);
        long next = 0;
        long lost = 0;
        while (next < 200_000) {
            Optional<BoardStream.Piece> piece = stream.next(200 * MS);
            if (piece.isPresent()) {
                lost += piece.get().lostBefore();
                assertEquals(0, piece.get().lostBefore() % 253, "whole frames of 253 scans");
                assertInstants(stream, piece.get(), 1);
                next = piece.get().firstScan() + piece.get().scans();
            }
        }

        assertTrue(lossy.lost() > 50, lossy.lost() + " frames");
        assertTrue(lost >= 253L * (lossy.lost() - 1), lost + " scans of " + lossy.lost() + " frames");
    }

    @Test
    void nothingElseSamplesMeanwhileAndTheLastCaptureIsLost() throws Exception {
        FramedDaqBoard driver = connect(board);
        driver.capture(CaptureRequest.now(1, 100, 10));
        BoardStream stream = driver.stream(1, 1000);

        InstrumentException busy = assertThrows(InstrumentException.class, () -> driver.read(1, 1, 100));

        assertTrue(busy.toString().contains("BUSY"), busy.toString());
        stream.stop();
        assertThrows(IllegalStateException.class, () -> stream.next(MS));
        InstrumentException gone = assertThrows(InstrumentException.class, stream::stop);
        assertTrue(gone.toString().contains("NO_DATA"), gone.toString());
    }

    @Test
    void aTripDoesNotEndItButTheNextContactDoes() throws Exception {
        FramedDaqBoard driver = connect(board);
        driver.arm(1000);
        BoardStream stream = driver.stream(1, 1000);
        board.input(0, false);
        board.input(0, true);
        assertEquals(BoardState.TRIPPED, driver.status().state());
        assertTrue(stream.next(200 * MS).isPresent(), "what happens after a trip can be seen");

        driver.connect();

        assertEquals(1, driver.read(1, 1, 100).get(0).samples());
    }
}
