package railproof.wire.serial;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.SystemClock;
import railproof.instrument.CaptureBlock;
import railproof.instrument.CaptureRequest;
import railproof.instrument.FramedDaqBoard;
import railproof.sim.device.AdcChannel;
import railproof.sim.device.AnalogSource;
import railproof.sim.device.BoardOutputs;
import railproof.sim.device.BoardSettings;
import railproof.sim.device.PeerPump;
import railproof.sim.device.SimulatedBoard;
import railproof.wire.Link;
import railproof.wire.LinkDownException;
import railproof.wire.LinkException;

/** The serial link over pseudo-terminals, with real processes in between. Needs socat. */
@Tag("process")
@Tag("wallclock")
@Timeout(value = 60, unit = TimeUnit.SECONDS)
class SerialLinkProcessTest {
    private static final long SECOND_NS = 1_000_000_000L;

    private final Path folder;
    private PtyPair cable;

    SerialLinkProcessTest(@TempDir Path folder) throws IOException, InterruptedException {
        this.folder = folder;
        this.cable = PtyPair.plug(folder);
    }

    @AfterEach
    void unplug() throws Exception {
        cable.pull();
    }

    private SerialLink open(Path port) throws LinkException {
        return SerialLink.open("daq", SerialSettings.board(port.toString()), SystemClock.INSTANCE);
    }

    @Test
    void carriesEveryByteBothWays() throws Exception {
        try (SerialLink near = open(cable.near);
                SerialLink far = open(cable.far)) {
            byte[] sent = new byte[100_000];
            new Random(3).nextBytes(sent);
            for (Link[] way : new Link[][] {{near, far}, {far, near}}) {
                ByteArrayOutputStream got = new ByteArrayOutputStream();
                byte[] buffer = new byte[8192];
                for (int at = 0; at < sent.length; at += 1000) {
                    way[0].write(Arrays.copyOfRange(sent, at, at + 1000));
                    int count = way[1].read(buffer, 0);
                    got.write(buffer, 0, count);
                }
                int count = 1;
                while (got.size() < sent.length && count > 0) {
                    count = way[1].read(buffer, 5 * SECOND_NS);
                    got.write(buffer, 0, count);
                }
                assertArrayEquals(sent, got.toByteArray());
            }
            assertEquals(0, near.droppedBytes());
        }
    }

    @Test
    void saysThatTheCableWasPulled() throws Exception {
        try (SerialLink near = open(cable.near)) {
            cable.pull();

            LinkDownException gone =
                    assertThrows(LinkDownException.class, () -> near.read(new byte[10], 10 * SECOND_NS));

            assertEquals("link daq: the port is gone (unplugged?)", gone.getMessage());
            assertThrows(LinkDownException.class, () -> near.write(new byte[] {1}));
            assertFalse(near.emergencyWrite(new byte[] {1}));
        }
    }

    @Test
    void findsThePortAgainAfterItWasPluggedInAnew() throws Exception {
        try (SerialLink near = open(cable.near)) {
            cable.pull();
            assertThrows(LinkDownException.class, () -> near.read(new byte[10], 10 * SECOND_NS));
        }
        cable = PtyPair.plug(folder); // the names lead to other devices now

        try (SerialLink near = open(cable.near);
                SerialLink far = open(cable.far)) {
            far.write(new byte[] {7});
            byte[] buffer = new byte[10];
            assertEquals(1, near.read(buffer, 5 * SECOND_NS));
            assertEquals(7, buffer[0]);
        }
    }

    @Test
    void closesThePortWhenTheDeviceStopsReading() throws Exception {
        try (SerialLink near = open(cable.near)) {
            // nobody opens the far end: the kernel's buffers fill up, then a write blocks
            byte[] block = new byte[4096];
            LinkDownException stalled = assertThrows(LinkDownException.class, () -> {
                for (int k = 0; k < 1000; k++) {
                    near.write(block);
                }
            });

            assertEquals(
                    "link daq: the device did not take 4096 bytes within 1000 ms; port closed", stalled.getMessage());
            assertThrows(LinkDownException.class, () -> near.read(new byte[1], 0));
        }
    }

    @Test
    void refusesAPortThatIsOpenAlready() throws Exception {
        try (SerialLink near = open(cable.near)) {
            LinkDownException twice = assertThrows(LinkDownException.class, () -> open(cable.near));
            assertTrue(twice.toString().contains("has it open"), twice.toString());
            near.write(new byte[] {1});
        }
    }

    @Test
    void refusesAPortThatAnotherProgramHasLocked() throws Exception {
        Process other =
                new ProcessBuilder("flock", "-x", cable.near.toRealPath().toString(), "sleep", "30").start();
        try {
            LinkDownException locked = null;
            for (int tries = 0; tries < 100 && locked == null; tries++) {
                locked = tryToOpen();
                TimeUnit.MILLISECONDS.sleep(20);
            }
            assertTrue(String.valueOf(locked).contains("another program has it open"), String.valueOf(locked));
        } finally {
            other.descendants().forEach(ProcessHandle::destroyForcibly);
            other.destroyForcibly().waitFor();
        }
    }

    private @org.jspecify.annotations.Nullable LinkDownException tryToOpen() throws LinkException {
        try (SerialLink link = open(cable.near)) {
            assertEquals("daq", link.name());
            return null;
        } catch (LinkDownException e) {
            return e;
        }
    }

    @Test
    void namesAPortThatIsNotThere() {
        LinkDownException missing = assertThrows(LinkDownException.class, () -> open(folder.resolve("nothing-here")));
        assertTrue(missing.toString().contains("nothing-here"), missing.toString());
        LinkDownException unplugged = assertThrows(
                LinkDownException.class,
                () -> SerialLink.open("daq", SerialSettings.board("usb:1d50:ffff:NONE"), SystemClock.INSTANCE));
        assertTrue(unplugged.toString().contains("no port fits usb:1d50:ffff:NONE"), unplugged.toString());
    }

    @Test
    void freesAReaderThatWaitsWhenClosed() throws Exception {
        SerialLink near = open(cable.near);
        AtomicBoolean freed = new AtomicBoolean();
        Thread waiting = new Thread(() -> {
            try {
                near.read(new byte[1], 60 * SECOND_NS);
            } catch (LinkException | InterruptedException e) {
                freed.set(e instanceof LinkDownException);
            }
        });
        waiting.start();

        near.close();
        waiting.join(10_000);

        assertTrue(freed.get());
    }

    @Test
    void canStillSwitchOffAfterAnInterrupt() throws Exception {
        try (SerialLink near = open(cable.near);
                SerialLink far = open(cable.far)) {
            Thread.currentThread().interrupt();
            assertThrows(InterruptedException.class, () -> near.read(new byte[1], SECOND_NS));
            Thread.currentThread().interrupt();
            near.write(new byte[] {1});
            assertTrue(near.emergencyWrite(new byte[] {2}));
            assertTrue(Thread.interrupted());

            byte[] got = new byte[10];
            int count = 0;
            while (count < 2) {
                byte[] more = new byte[10];
                int n = far.read(more, 5 * SECOND_NS);
                assertTrue(n > 0);
                System.arraycopy(more, 0, got, count, n);
                count += n;
            }
            assertEquals("0102", HexFormat.of().formatHex(got, 0, 2));
        }
    }

    @Test
    void runsTheSimulatedBoardInRealTime() throws Exception {
        AtomicBoolean stop = new AtomicBoolean();
        SystemClock clock = SystemClock.INSTANCE;
        SimulatedBoard board = new SimulatedBoard(
                BoardSettings.standard("B-0001", List.of(AdcChannel.ideal("out", -10.24, 10.24)), 7),
                new Still(),
                BoardOutputs.none(),
                clock.nowNs());
        SerialLink far = open(cable.far);
        Thread device = new Thread(() -> serve(far, board, stop));
        device.start();
        FramedDaqBoard driver = new FramedDaqBoard("daq", open(cable.near), "B-0001", () -> 11);
        try {
            assertTrue(driver.connect().simulated());
            driver.arm(2000);
            driver.relays(1, 1);
            driver.loadEnable(true);
            assertEquals(16000, driver.read(1, 50, 1000).get(0).meanCode());
            CaptureBlock block = driver.capture(CaptureRequest.now(1, 10, 20_000));
            assertTrue(Arrays.stream(block.codes(0)).allMatch(code -> code == 16000));
            assertFalse(driver.safeState().loadEnabled());
            assertEquals("0 stray answers, 0 noise blocks", driver.linkHealth().replaceAll(", \\d+ retries", ""));
        } finally {
            driver.close();
            stop.set(true);
            device.join(10_000);
            far.close();
        }
    }

    private static void serve(Link port, SimulatedBoard board, AtomicBoolean stop) {
        try {
            PeerPump.run(port, board, stop::get);
        } catch (LinkException e) {
            stop.set(true);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private static final class Still implements AnalogSource {
        @Override
        public void advanceTo(double timeS) {}

        @Override
        public double voltageV(int channel) {
            return 5;
        }
    }
}
