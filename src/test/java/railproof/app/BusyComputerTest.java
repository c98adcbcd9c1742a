package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.Clock;
import railproof.instrument.BoardState;
import railproof.instrument.CaptureBlock;
import railproof.instrument.CaptureRequest;
import railproof.instrument.FramedDaqBoard;
import railproof.wire.Link;
import railproof.wire.serial.SerialLink;
import railproof.wire.serial.SerialSettings;

/**
 * A computer that has no time for the emulator or for the lines, again and again and for longer than any waiting time of
 * the protocol: a controller that goes by the board's clock does not see it. Whole runs on the emulated processor rest on
 * this.
 */
@Tag("qemu")
@Timeout(value = 3, unit = TimeUnit.MINUTES)
class BusyComputerTest {
    /** A request is given up after 350 ms without an answer, and the heartbeat's time-out is 500 ms. */
    private static final long STOPPED_MS = 700;

    private static final long GOING_MS = 150;
    private static final int HEARTBEAT_MS = 500;
    private static final int ROUNDS = 12;
    private static final int SCANS = 1500;

    private final AtomicBoolean over = new AtomicBoolean();
    private final AtomicInteger stops = new AtomicInteger();

    private static void signal(String name, List<Long> processes) throws IOException, InterruptedException {
        for (long process : processes) {
            new ProcessBuilder("kill", "-" + name, Long.toString(process))
                    .start()
                    .waitFor();
        }
    }

    /** Stops the emulator, then the lines, then both, in turn. */
    private void stutter(List<Long> all) {
        List<List<Long>> choices = List.of(all.subList(0, 1), all.subList(1, 3), all);
        try {
            while (!over.get()) {
                List<Long> chosen = choices.get(stops.getAndIncrement() % choices.size());
                signal("STOP", chosen);
                TimeUnit.MILLISECONDS.sleep(STOPPED_MS);
                signal("CONT", chosen);
                TimeUnit.MILLISECONDS.sleep(GOING_MS);
            }
        } catch (IOException | InterruptedException e) {
            throw new IllegalStateException(e);
        }
    }

    @Test
    void makesNoDifferenceToAControllerThatGoesByTheBoardsClock(@TempDir Path folder) throws Exception {
        try (EmulatedBench bench = new EmulatedBench(folder, "counter-5v", "")) {
            Clock clock = bench.clock();
            Thread stutter = new Thread(() -> stutter(bench.board.processes()), "stutter");
            try (Link link = SerialLink.open(
                    "daq", SerialSettings.board(bench.board.port().toString()), clock)) {
                int[] nonce = {1};
                FramedDaqBoard driver = new FramedDaqBoard("daq", link, "", () -> nonce[0]++);
                driver.connect();
                driver.arm(HEARTBEAT_MS);
                stutter.start();
                for (int round = 0; round < ROUNDS; round++) {
                    assertEquals(BoardState.ARMED, driver.heartbeat().state(), "round " + round);
                    assertEquals(100, driver.read(0b11, 100, 500).get(0).samples());
                    CaptureBlock block = driver.capture(CaptureRequest.now(0b111, 50, SCANS));
                    assertEquals(SCANS, block.codes(0).length);
                }
                assertTrue(stops.get() > 5, stops + " stops");
            } finally {
                over.set(true);
                stutter.join();
            }
        }
    }
}
