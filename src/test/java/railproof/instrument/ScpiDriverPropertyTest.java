package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import railproof.sim.device.LoadAccuracy;
import railproof.sim.device.LoadRatings;
import railproof.sim.device.SimulatedLoad;
import railproof.wire.LinkException;
import railproof.wire.ScpiSettings;

/** What must hold of the load driver whatever happens to the bytes. */
class ScpiDriverPropertyTest {
    private static final LoadDialect DIALECT = new LoadDialect(
            "simulated",
            ScpiSettings.STANDARD,
            Map.of(LoadCommand.WATCHDOG, ":SYST:WATC %s"),
            false,
            Duration.ofMillis(20),
            Duration.ofSeconds(30));

    private final List<SimulatedLoad> devices = new ArrayList<>();

    private DeviceOnALink link() {
        SimulatedLoad device = new SimulatedLoad(LoadRatings.BENCH, LoadAccuracy.ORDINARY, 9);
        devices.add(device);
        return new DeviceOnALink(device::receive, now -> {
            device.advanceTo(now);
            device.observe(12, device.characteristic().currentA(12));
        });
    }

    private SimulatedLoad device() {
        return devices.get(devices.size() - 1);
    }

    private static List<LoadReading> session(ScpiElectronicLoad load, DeviceOnALink link)
            throws LinkException, InstrumentException, InterruptedException {
        List<LoadReading> readings = new ArrayList<>();
        load.connect();
        load.protect(new LoadProtection(10, 20, 150));
        for (int i = 1; i <= 5; i++) {
            load.set(LoadMode.CURRENT, i);
            load.input(true);
            link.pass(40_000_000);
            readings.add(load.measure());
            load.checkHealth();
        }
        load.input(false);
        return readings;
    }

    @Test
    void anyCuttingOfTheRepliesGivesTheSameReadings() throws Exception {
        DeviceOnALink whole = link();
        List<LoadReading> expected = session(new ScpiElectronicLoad("load", whole, DIALECT), whole);
        assertEquals(5, expected.size());
        for (long seed = 1; seed <= 20; seed++) {
            Random random = new Random(seed);
            DeviceOnALink cut = link();
            cut.chunk = () -> 1 + random.nextInt(6);

            assertEquals(expected, session(new ScpiElectronicLoad("load", cut, DIALECT), cut), "seed " + seed);
            assertEquals(whole.written, cut.written, "seed " + seed);
        }
    }

    /**
     * One reply in twenty lost, cut short or with a byte's top bit flipped. A session may fail, but every reading it gives
     * is a true one (the device's 12 V and set current, inside five sigmas of its errors), and after close it is off.
     */
    @Test
    void noisyRepliesNeverBecomeReadings() throws Exception {
        int finished = 0;
        int disturbed = 0;
        for (long seed = 1; seed <= 200; seed++) {
            Random random = new Random(seed);
            DeviceOnALink link = link();
            int[] count = {0};
            link.onTheWay = reply -> {
                if (random.nextInt(20) != 0) {
                    return reply;
                }
                count[0]++;
                int at = random.nextInt(reply.length());
                return switch (random.nextInt(3)) {
                    case 0 -> null;
                    case 1 -> reply.substring(0, at);
                    default -> reply.substring(0, at) + (char) (reply.charAt(at) | 0x80) + reply.substring(at + 1);
                };
            };
            ScpiElectronicLoad load = new ScpiElectronicLoad("load", link, DIALECT);
            try {
                List<LoadReading> readings = session(load, link);
                for (int i = 0; i < readings.size(); i++) {
                    // ORDINARY: 2 mV + 2.4 mV and 5 sigmas of 0.5 mV; 1 mA + 1 mA, 0.08 % of 5 A, 5 sigmas of 0.3 mA
                    assertEquals(12, readings.get(i).voltageV(), 7e-3, "seed " + seed);
                    assertEquals(i + 1, readings.get(i).currentA(), 8e-3, "seed " + seed);
                }
                finished++;
            } catch (LinkException | InstrumentException e) {
                assertTrue(count[0] > 0, "seed " + seed + ": failed without a disturbance: " + e);
            }
            disturbed += count[0];
            load.close();
            assertFalse(device().inputOn(), "seed " + seed);
        }
        assertTrue(disturbed > 500, "disturbances: " + disturbed);
        assertTrue(finished > 100, "one lost reply in twenty must usually be survived, finished " + finished);
    }

    @Test
    void whicheverOperationFailsCloseLeavesTheInputOff() throws Exception {
        DeviceOnALink whole = link();
        session(new ScpiElectronicLoad("load", whole, DIALECT), whole);
        int all = whole.operations;
        for (int failing = 1; failing <= all; failing++) {
            DeviceOnALink link = link();
            link.failingOperation = failing;
            ScpiElectronicLoad load = new ScpiElectronicLoad("load", link, DIALECT);
            boolean failed = false;
            try {
                session(load, link);
            } catch (LinkException e) {
                failed = true;
            }
            assertTrue(failed, "operation " + failing);
            load.close();
            assertFalse(device().inputOn(), "operation " + failing);
            assertTrue(link.closed, "operation " + failing);
        }
    }

    @Test
    void formatsNumbersWithoutExponentInEveryLocale() {
        assertEquals("0", ScpiInstrument.number(0));
        assertEquals("0.012", ScpiInstrument.number(0.012));
        assertEquals("100", ScpiInstrument.number(100));
        assertEquals("1.234568", ScpiInstrument.number(1.23456789));
        assertEquals("0.00001", ScpiInstrument.number(1e-5));
        assertEquals("50000", ScpiInstrument.number(5e4));
        assertEquals("0.3", ScpiInstrument.number(0.1 + 0.2));
    }
}
