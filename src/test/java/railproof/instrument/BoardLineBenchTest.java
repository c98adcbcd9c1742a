package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.SystemClock;
import railproof.sim.device.BoardOutputs;
import railproof.sim.device.BoardSettings;
import railproof.sim.device.DarkInputs;
import railproof.sim.device.PeerPump;
import railproof.sim.device.SimulatedBoard;
import railproof.wire.Link;
import railproof.wire.LinkException;
import railproof.wire.serial.PtyPair;
import railproof.wire.serial.SerialLink;
import railproof.wire.serial.SerialSettings;

/**
 * What a request costs over a pseudo-terminal, against bytes that only come back; and at which rate a stream begins to lose
 * scans. Prints; asserts nothing on time. Needs socat, make and a C compiler, for one row qemu-system-arm.
 */
@Tag("bench")
@Timeout(value = 10, unit = TimeUnit.MINUTES)
class BoardLineBenchTest {
    private static final int WARM_UP = 2000;
    private static final int EXCHANGES = 5000;
    /** STATUS_READ has 14 bytes on the line; its answer has so many. The echo carries these there and back. */
    private static final int ANSWER_BYTES = 54;

    private static final int CHANNELS = 32;
    private static final double STREAM_S = 3;
    /** Scans in 64 frames, twice what the host gives credit for. */
    private static final long ON_THEIR_WAY = 64 * 15;

    private final Path folder;

    BoardLineBenchTest(@TempDir Path folder) {
        this.folder = folder;
    }

    private interface Exchange {
        void once() throws LinkException, InstrumentException, InterruptedException;
    }

    private static void print(String text) {
        System.getLogger("bench").log(System.Logger.Level.INFO, text);
    }

    private static double median(String what, Exchange exchange) throws Exception {
        for (int k = 0; k < WARM_UP; k++) {
            exchange.once();
        }
        long[] tookNs = new long[EXCHANGES];
        for (int k = 0; k < EXCHANGES; k++) {
            long fromNs = SystemClock.INSTANCE.nowNs();
            exchange.once();
            tookNs[k] = SystemClock.INSTANCE.nowNs() - fromNs;
        }
        Arrays.sort(tookNs);
        double medianUs = tookNs[EXCHANGES / 2] * 1e-3;
        print(String.format(
                Locale.ROOT,
                "%-52s median %6.0f us, 99 %% below %6.0f us",
                what,
                medianUs,
                tookNs[EXCHANGES * 99 / 100] * 1e-3));
        return medianUs;
    }

    private static Link open(Path port) throws LinkException {
        return SerialLink.open("daq", SerialSettings.board(port.toString()), SystemClock.INSTANCE);
    }

    /** An answer's bytes there, and back from cat. */
    private double bareEcho() throws Exception {
        PtyPair cable = PtyPair.plug(Files.createDirectories(folder.resolve("echo")));
        Process cat = new ProcessBuilder("cat")
                .redirectInput(cable.near().toFile())
                .redirectOutput(cable.near().toFile())
                .start();
        try (Link link = open(cable.far())) {
            byte[] there = new byte[ANSWER_BYTES];
            byte[] back = new byte[4096];
            Arrays.fill(there, (byte) 0x55);
            return median("bytes of an answer's length, echoed by cat", () -> {
                link.write(there);
                for (int count = 0; count < ANSWER_BYTES; ) {
                    count += link.read(back, TimeUnit.SECONDS.toNanos(1));
                }
            });
        } finally {
            cat.destroyForcibly().waitFor();
            cable.pull();
        }
    }

    private static double statusOver(String what, Path port) throws Exception {
        try (Link link = open(port)) {
            FramedDaqBoard driver = new FramedDaqBoard("daq", link, "B-0001", () -> 1);
            driver.connect();
            double medianUs = median(what, driver::status);
            assertTrue(driver.counters().clean(), "the line was clean");
            return medianUs;
        }
    }

    private double simulatedBoard() throws Exception {
        PtyPair cable = PtyPair.plug(Files.createDirectories(folder.resolve("simulated")));
        AtomicBoolean stop = new AtomicBoolean();
        try (Link far = open(cable.near())) {
            SimulatedBoard board = new SimulatedBoard(
                    BoardSettings.standard("B-0001", EmulatedBoard.CHANNELS, 1),
                    new DarkInputs(),
                    BoardOutputs.none(),
                    SystemClock.INSTANCE.nowNs());
            Thread server = new Thread(() -> serve(far, board, stop), "simulated-board");
            server.start();
            double medianUs = statusOver("STATUS_READ, simulated board in this process", cable.far());
            stop.set(true);
            server.join();
            return medianUs;
        } finally {
            cable.pull();
        }
    }

    private static void serve(Link far, SimulatedBoard board, AtomicBoolean stop) {
        try {
            PeerPump.run(far, board, stop::get);
        } catch (LinkException e) {
            throw new IllegalStateException(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    @Test
    void aRequestAgainstABareEcho() throws Exception {
        double echoUs = bareEcho();
        double simulatedUs = simulatedBoard();
        EmulatedBoard process =
                EmulatedBoard.processInRealTime(Files.createDirectory(folder.resolve("p")), new DarkInputs());
        double processUs = statusOver("STATUS_READ, firmware as a process with sanitizers", process.port());
        process.close();
        EmulatedBoard cortex = EmulatedBoard.cortex(Files.createDirectory(folder.resolve("c")), new DarkInputs());
        double cortexUs = statusOver("STATUS_READ, firmware on the emulated Cortex-M3", cortex.port());
        cortex.close();
        print(String.format(
                Locale.ROOT,
                "against the bare echo: %.2f simulated, %.2f process, %.2f emulated",
                simulatedUs / echoUs,
                processUs / echoUs,
                cortexUs / echoUs));
    }

    /** What came of one rate. */
    private record Rate(long periodTicks, double samplesPerS, long lost, long dropped, long behind) {
        /** Nothing lost, and no more scans behind than are on their way: the rest would wait in memory that fills up. */
        boolean clean() {
            return lost == 0 && dropped == 0 && behind <= ON_THEIR_WAY;
        }

        @Override
        public String toString() {
            return String.format(
                    Locale.ROOT,
                    "32 channels every %5d us: %8.0f samples/s asked for, %7.0f kB/s of samples came, %d scans lost, %d behind",
                    periodTicks,
                    1e6 / periodTicks * CHANNELS,
                    samplesPerS * 2e-3,
                    Math.max(lost, dropped),
                    behind);
        }
    }

    private static Rate stream(FramedDaqBoard driver, long periodTicks) throws Exception {
        BoardStream stream = driver.stream(-1, periodTicks);
        long fromNs = SystemClock.INSTANCE.nowNs();
        long scans = 0;
        long lost = 0;
        long next = 0;
        while (SystemClock.INSTANCE.nowNs() - fromNs < STREAM_S * 1e9) {
            Optional<BoardStream.Piece> piece = stream.next(TimeUnit.MILLISECONDS.toNanos(100));
            if (piece.isPresent()) {
                assertEquals(next + piece.get().lostBefore(), piece.get().firstScan());
                next = piece.get().firstScan() + piece.get().scans();
                scans += piece.get().scans();
                lost += piece.get().lostBefore();
            }
        }
        double tookS = (SystemClock.INSTANCE.nowNs() - fromNs) * 1e-9;
        BoardStream.Totals totals = stream.stop();
        return new Rate(periodTicks, scans * CHANNELS / tookS, lost, totals.dropped(), totals.scans() - next);
    }

    /** Raises the rate step by step, by shorter periods of all channels, until scans are lost twice at one rate. */
    private static void raise(String what, EmulatedBoard board) throws Exception {
        try (Link link = board.open()) {
            FramedDaqBoard driver = new FramedDaqBoard("daq", link, "B-0001", () -> 1);
            driver.connect();
            Optional<Rate> best = Optional.empty();
            for (long periodTicks :
                    new long[] {1000, 500, 250, 200, 160, 125, 100, 80, 64, 50, 40, 32, 25, 20, 16, 10}) {
                Rate rate = stream(driver, periodTicks);
                if (!rate.clean()) {
                    rate = stream(driver, periodTicks);
                }
                print(what + ": " + rate);
                if (!rate.clean()) {
                    break;
                }
                best = Optional.of(rate);
            }
            print(what + ": highest rate without loss: "
                    + best.map(Rate::toString).orElse("none"));
            assertTrue(driver.counters().clean(), "what was lost was lost for want of time, not by damage");
        }
    }

    @Test
    void theHighestRateAtWhichAStreamLosesNothing() throws Exception {
        EmulatedBoard process =
                EmulatedBoard.processInRealTime(Files.createDirectory(folder.resolve("p")), new DarkInputs());
        raise("process", process);
        process.close();
        EmulatedBoard cortex = EmulatedBoard.cortex(Files.createDirectory(folder.resolve("c")), new DarkInputs());
        raise("Cortex-M3", cortex);
        cortex.close();
    }
}
