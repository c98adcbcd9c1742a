package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import railproof.sim.device.LoadFault;
import railproof.sim.device.SimulatedLoad;
import railproof.wire.LinkDownException;
import railproof.wire.LinkException;
import railproof.wire.ScpiSettings;

class ScpiElectronicLoadTest {
    private static final LoadDialect DIALECT = new LoadDialect(
            "simulated",
            ScpiSettings.STANDARD,
            Map.of(LoadCommand.WATCHDOG, ":SYST:WATC %s"),
            false,
            Duration.ofMillis(20),
            Duration.ofSeconds(2));

    /** A stiff 12 V source behind 0.1 Ω; the operating point by bisection, because the load only ever sinks more. */
    private static void feed(SimulatedLoad load) {
        double lowV = 0;
        double highV = 12;
        for (int i = 0; i < 60; i++) {
            double middleV = (lowV + highV) / 2;
            if ((12 - middleV) / 0.1 > load.characteristic().currentA(middleV)) {
                lowV = middleV;
            } else {
                highV = middleV;
            }
        }
        load.observe(lowV, load.characteristic().currentA(lowV));
    }

    private final SimulatedLoad device = SimulatedLoad.ideal();
    private final DeviceOnALink link = new DeviceOnALink(device::receive, now -> {
        device.advanceTo(now);
        feed(device);
    });
    private final ScpiElectronicLoad load = new ScpiElectronicLoad("bench load", link, DIALECT);

    @Test
    void sendsOffBeforeAnythingElse() throws Exception {
        load.connect();

        assertEquals("\n:INP OFF\n", link.written.get(0));
        assertEquals(":INP?\n", link.written.get(1));
    }

    @Test
    void saysWhoAnsweredAndThatItIsASimulation() throws Exception {
        Identity identity = load.connect();

        assertEquals(new Identity("RAILPROOF SIMULATED LOAD 250V 30A", "SL-0001", "1.0", true), identity);
    }

    @Test
    void sinksTheCurrentItWasSetTo() throws Exception {
        load.connect();
        load.protect(new LoadProtection(5, 20, 100));
        load.set(LoadMode.CURRENT, 2.5);
        load.input(true);
        link.pass(50_000_000);

        LoadReading reading = load.measure();

        // 12 V - 2.5 A x 0.1 ohm = 11.75 V. The meter's replies carry seven digits (5E-7 of reading); the mean over
        // 20 ms of one look that covers it all is exact; the slew's tail after 50 ms is exp(-500).
        assertEquals(2.5, reading.currentA(), 2e-6);
        assertEquals(11.75, reading.voltageV(), 1e-5);
        load.checkHealth();
    }

    @Test
    void sendsTheModeOnlyWhenItChanges() throws Exception {
        load.connect();
        load.set(LoadMode.CURRENT, 1);
        load.set(LoadMode.CURRENT, 2);
        load.set(LoadMode.VOLTAGE, 5);

        assertEquals(1, link.written.stream().filter(":FUNC CURR\n"::equals).count());
        assertEquals(1, link.written.stream().filter(":FUNC VOLT\n"::equals).count());
    }

    @Test
    void refusesALevelTheDeviceCannotDoAndSaysWhy() throws Exception {
        load.connect();

        InstrumentException refused = assertThrows(InstrumentException.class, () -> load.set(LoadMode.CURRENT, 31));

        assertTrue(refused.toString().contains("-222"), refused.toString());
        assertTrue(refused.toString().contains("bench load"), refused.toString());
    }

    @Test
    void noticesALoadThatDoesNotGoOff() throws Exception {
        load.connect();
        load.set(LoadMode.CURRENT, 1);
        load.input(true);
        device.fault(LoadFault.IGNORES_OFF, true);

        assertThrows(InstrumentException.class, () -> load.input(false));
        assertThrows(InstrumentException.class, load::connect);
    }

    @Test
    void noticesALoadThatDoesNotGoOn() throws Exception {
        load.connect();
        device.fault(LoadFault.IGNORES_ON, true);

        assertThrows(InstrumentException.class, () -> load.input(true));
    }

    @Test
    void sendsOffWhenItCannotConfirmThatItIsOn() throws Exception {
        load.connect();
        load.set(LoadMode.CURRENT, 1);
        device.fault(LoadFault.CLAIMS_OFF, true);

        assertThrows(InstrumentException.class, () -> load.input(true));
        assertFalse(device.inputOn());
    }

    @Test
    void offDoesNotWaitForABrokenExchange() throws Exception {
        load.connect();
        load.set(LoadMode.CURRENT, 1);
        load.input(true);
        link.failingOperation = link.operations + 2;
        assertThrows(LinkDownException.class, load::measure);
        int before = link.written.size();

        load.input(false);

        assertEquals("\n:INP OFF\n", link.written.get(before));
        assertFalse(device.inputOn());
    }

    @Test
    void noticesASilentPowerCycle() throws Exception {
        load.connect();
        load.set(LoadMode.CURRENT, 1);
        load.input(true);
        load.checkHealth();
        device.powerCycle();

        InstrumentException noticed = assertThrows(InstrumentException.class, load::checkHealth);

        assertTrue(noticed.toString().contains("power"), noticed.toString());
    }

    @Test
    void noticesAPowerCycleHiddenBehindLostReplies() throws Exception {
        load.connect();
        load.set(LoadMode.CURRENT, 1);
        load.input(true);
        int[] lost = {0};
        link.onTheWay = reply -> lost[0]++ < 1 ? null : reply;
        device.powerCycle();
        load.measure(); // the lost reply costs a search for feet, which clears the device's status

        assertThrows(InstrumentException.class, load::checkHealth);
    }

    @Test
    void namesTheProtectionThatTripped() throws Exception {
        load.connect();
        load.protect(new LoadProtection(5, 20, 10));
        load.set(LoadMode.CURRENT, 2);
        load.input(true);
        link.pass(10_000_000);
        link.pass(10_000_000);

        assertFalse(load.inputOn());
        InstrumentException noticed = assertThrows(InstrumentException.class, load::checkHealth);
        assertTrue(noticed.toString().contains("Over-power"), noticed.toString());
    }

    @Test
    void theWatchdogDropsTheInputWhenTheHostFallsSilent() throws Exception {
        load.connect();
        load.set(LoadMode.CURRENT, 1);
        load.input(true);
        link.pass(1_900_000_000L);
        assertTrue(device.inputOn());
        link.pass(200_000_000L);
        assertFalse(device.inputOn());
    }

    @Test
    void saysNoNumberRatherThanAHugeOne() throws Exception {
        load.connect();
        device.fault(LoadFault.MEASURES_NOTHING, true);

        assertThrows(InstrumentException.class, load::measure);
    }

    @Test
    void emergencyOffGoesOutInTheMiddleOfALine() throws Exception {
        load.connect();
        load.set(LoadMode.CURRENT, 1);
        load.input(true);
        link.write(":CURR 1".getBytes(java.nio.charset.StandardCharsets.US_ASCII));

        assertTrue(load.emergencyOff());
        assertFalse(device.inputOn());
    }

    @Test
    void closesWithTheInputOff() throws Exception {
        load.connect();
        load.set(LoadMode.CURRENT, 1);
        load.input(true);

        load.close();

        assertFalse(device.inputOn());
        assertTrue(link.closed);
    }

    @Test
    void closeTurnsOffEvenWhenInterrupted() throws Exception {
        load.connect();
        load.set(LoadMode.CURRENT, 1);
        load.input(true);
        Thread.currentThread().interrupt();

        load.close();

        assertTrue(Thread.interrupted());
        assertFalse(device.inputOn());
        assertTrue(link.written.contains("\n:SYST:LOC\n"), "off was confirmed, then local control given back");
    }

    @Test
    void whicheverOperationOfTheFirstContactFailsTheInputIsNotOnAndTheFailurePassesThrough() throws Exception {
        load.connect();
        int all = link.operations;
        List<Integer> endedWell = new ArrayList<>();

        for (int failing = 1; failing <= all; failing++) {
            SimulatedLoad other = SimulatedLoad.ideal();
            DeviceOnALink otherLink = new DeviceOnALink(other::receive, other::advanceTo);
            otherLink.failingOperation = failing;
            ScpiElectronicLoad driver = new ScpiElectronicLoad("bench load", otherLink, DIALECT);
            try {
                driver.connect();
                endedWell.add(failing);
            } catch (LinkDownException e) {
                assertTrue(e.toString().contains("pulled"), e.toString());
            }
            assertFalse(other.inputOn());
            assertEquals(failing, otherLink.operations, "nothing is tried after the port is gone");
        }
        assertEquals(List.of(), endedWell);
        assertTrue(all > 10, "operations: " + all);
    }

    @Test
    void aStopOutOfAReadIsNotRetried() throws Exception {
        load.connect();
        final class Stopped extends LinkException {
            Stopped() {
                super("bench-load", "stopped by the operator");
            }
        }
        ScpiElectronicLoad watched = new ScpiElectronicLoad("bench load", new WatchedLink(link, Stopped::new), DIALECT);

        assertThrows(Stopped.class, watched::measure);
    }
}
