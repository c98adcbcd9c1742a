package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.Instant;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Consumer;
import org.junit.jupiter.api.Test;
import railproof.base.VirtualClock;
import railproof.sim.device.BoardOutputs;
import railproof.sim.device.BoardSettings;
import railproof.sim.device.SimulatedBoard;
import railproof.wire.Decoded;
import railproof.wire.Frame;
import railproof.wire.FrameDecoder;
import railproof.wire.FrameKind;
import railproof.wire.MemoryLink;
import railproof.wire.Peer;

/** The host's driver uses every message of the table, and the simulated board answers every one of them. */
class WholeProtocolTest {
    /** Messages that go by, as "NAME kind". */
    private static final class Listener implements Peer {
        private final SimulatedBoard board;
        private final FrameDecoder there = new FrameDecoder(1024);
        private final FrameDecoder back = new FrameDecoder(1024);
        private final Set<String> heard = new TreeSet<>();

        Listener(SimulatedBoard board) {
            this.board = board;
        }

        private void note(Decoded decoded) {
            if (decoded instanceof Frame frame && frame.kind() != FrameKind.ERROR) {
                heard.add(BoardMessage.of(frame.type()).orElseThrow() + " " + frame.kind());
            }
        }

        private Consumer<byte[]> through(Consumer<byte[]> reply) {
            return bytes -> {
                back.feed(bytes, 0, bytes.length, this::note);
                reply.accept(bytes);
            };
        }

        @Override
        public void receive(byte[] bytes, Consumer<byte[]> reply) {
            there.feed(bytes, 0, bytes.length, this::note);
            board.receive(bytes, through(reply));
        }

        @Override
        public void advanceTo(long nowNs, Consumer<byte[]> reply) {
            board.advanceTo(nowNs, through(reply));
        }
    }

    @Test
    void everyMessageOfTheTableIsUsedByTheDriverAndAnsweredByTheSimulatedBoard() throws Exception {
        VirtualClock clock = new VirtualClock(Instant.EPOCH);
        Listener listener = new Listener(new SimulatedBoard(
                BoardSettings.standard("B-0001", SimulatedBench.CHANNELS, 7),
                new SimulatedBench.World(),
                BoardOutputs.none(),
                0));
        int[] nonce = {5};
        FramedDaqBoard driver = new FramedDaqBoard("daq", new MemoryLink("daq", clock, listener), "", () -> nonce[0]++);
        driver.connect();
        betweenRuns(driver);
        driver.connect();
        run(driver);

        Set<String> all = new TreeSet<>();
        for (BoardMessage message : BoardMessage.values()) {
            for (FrameKind kind : message.kinds()) {
                all.add(message + " " + kind);
            }
        }
        all.remove(
                "LOG_TEXT EVENT"); // for a technician's log; a board need not send any, and this one has nothing to say
        assertEquals(all, listener.heard);
    }

    private static void betweenRuns(FramedDaqBoard driver) throws Exception {
        driver.channelInfo(0);
        driver.readClock();
        driver.counters();
        BoardUpkeep upkeep = driver.upkeep();
        upkeep.echo(new byte[] {1, 2, 3});
        upkeep.write(new byte[] {4, 5, 6});
        upkeep.read();
        upkeep.selfTest(-1);
        upkeep.restart();
    }

    private static void run(FramedDaqBoard driver) throws Exception {
        driver.tripLimit(0, -32768, 32767, 0);
        driver.arm(1000);
        driver.relays(1, 1);
        driver.loadEnable(true);
        driver.heartbeat();
        driver.read(1, 10, 100);
        driver.startCapture(CaptureRequest.on(new CaptureTrigger.Host(), 1, 100, 500, 100));
        driver.triggerCapture();
        driver.finishCapture();
        BoardStream stream = driver.stream(1, 100);
        stream.next(200_000_000);
        stream.stop();
        driver.trip();
        driver.clearFaults();
        driver.safeState();
    }
}
