package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Collections;
import java.util.HashMap;
import java.util.Map;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;
import railproof.sim.device.LoadFault;
import railproof.sim.device.SimulatedLoad;
import railproof.wire.LinkException;
import railproof.wire.LinkTimeoutException;
import railproof.wire.ScpiSettings;

/** The load driver against devices that differ from the strict standard, and against read-backs that disagree. */
class ScpiElectronicLoadDialectTest {
    private final SimulatedLoad device = SimulatedLoad.ideal();

    /** What the line to the device turns a command into. */
    private UnaryOperator<String> toDevice = line -> line;

    private final DeviceOnALink link = new DeviceOnALink(
            (bytes, reply) -> device.receive(
                    toDevice.apply(new String(bytes, StandardCharsets.US_ASCII)).getBytes(StandardCharsets.US_ASCII),
                    reply),
            now -> {
                device.advanceTo(now);
                device.observe(12, device.characteristic().currentA(12));
            });

    private ScpiElectronicLoad load(Map<LoadCommand, String> words, boolean modeChangeDropsInput) {
        return new ScpiElectronicLoad(
                "load",
                link,
                new LoadDialect(
                        "other",
                        ScpiSettings.STANDARD,
                        words,
                        modeChangeDropsInput,
                        Duration.ofMillis(20),
                        Duration.ofSeconds(2)));
    }

    private ScpiElectronicLoad standard() {
        return load(Map.of(), false);
    }

    private long sent(String line) {
        return Collections.frequency(link.written, line + "\n");
    }

    @Test
    void switchesOffADeviceThatObeysOnlyInRemoteControl() throws Exception {
        device.receive(":SYST:REM;:CURR 1;:INP ON;:SYST:LOC\n".getBytes(StandardCharsets.US_ASCII), reply -> {});
        assertTrue(device.inputOn());
        device.fault(LoadFault.OFF_NEEDS_REMOTE, true);

        standard().connect();

        assertFalse(device.inputOn());
    }

    @Test
    void leavesADeviceOffThatGoesOnWithRemoteControl() throws Exception {
        toDevice = line -> line.replace(":SYST:REM", ":SYST:REM;:INP ON");

        standard().connect();

        assertFalse(device.inputOn());
    }

    @Test
    void selectsTheModeAgainAfterAFailedChange() throws Exception {
        ScpiElectronicLoad load = standard();
        load.connect();
        load.set(LoadMode.CURRENT, 1);
        toDevice = line -> line.replace(":FUNC RES", ":FUNC VOLT");
        assertThrows(InstrumentException.class, () -> load.set(LoadMode.RESISTANCE, 10));

        load.set(LoadMode.CURRENT, 1);

        assertEquals(2, sent(":FUNC CURR"));
    }

    @Test
    void setsALevelEvenIfTheDeviceCannotBeAskedForIt() throws Exception {
        toDevice = line -> line.replace(":CURR?", ":CURRX?").replace(":VOLT?", ":VOLTX?");
        ScpiElectronicLoad load = standard();
        load.connect();

        load.set(LoadMode.CURRENT, 1.5);
        load.set(LoadMode.CURRENT, 2.5);

        assertEquals(3, sent(":CURR?"), "tried three times once, then not again");
        load.input(true);
        link.pass(50_000_000);
        assertEquals(2.5, device.characteristic().currentA(12), 1e-9);
    }

    @Test
    void noticesALevelThatReadsBackDifferent() throws Exception {
        ScpiElectronicLoad load = standard();
        load.connect();
        toDevice = line -> line.replace(":CURR 2", ":CURR 3");

        InstrumentException refused = assertThrows(InstrumentException.class, () -> load.set(LoadMode.CURRENT, 2));

        assertTrue(refused.toString().contains("got 3 A"), refused.toString());
    }

    @Test
    void noticesAProtectionLevelThatReadsBackDifferent() throws Exception {
        ScpiElectronicLoad load = standard();
        load.connect();
        toDevice = line -> line.replace(":VOLT:PROT 20", ":VOLT:PROT 200");

        assertThrows(InstrumentException.class, () -> load.protect(new LoadProtection(5, 20, 100)));
    }

    @Test
    void doesNotSetProtectionWhileTheInputIsOn() throws Exception {
        ScpiElectronicLoad load = standard();
        load.connect();
        load.set(LoadMode.CURRENT, 1);
        load.input(true);

        assertThrows(InstrumentException.class, () -> load.protect(new LoadProtection(5, 20, 100)));
        assertEquals(0, sent(":CURR:PROT 5"));
    }

    @Test
    void noticesAModeThatDidNotArrive() throws Exception {
        ScpiElectronicLoad load = standard();
        load.connect();
        toDevice = line -> line.replace(":FUNC RES", ":FUNC VOLT");

        InstrumentException refused = assertThrows(InstrumentException.class, () -> load.set(LoadMode.RESISTANCE, 10));

        assertTrue(refused.toString().contains("wanted RES, got VOLT"), refused.toString());
    }

    @Test
    void doesWithoutTheOptionalCommands() throws Exception {
        Map<LoadCommand, String> words = new HashMap<>();
        for (LoadCommand command : LoadCommand.values()) {
            if (command.optional()) {
                words.put(command, "");
            }
        }
        device.receive(":SYST:REM\n".getBytes(StandardCharsets.US_ASCII), reply -> {});
        ScpiElectronicLoad load = load(words, false);

        load.connect();
        load.protect(new LoadProtection(5, 20, 100));
        load.set(LoadMode.RESISTANCE, 6);
        load.input(true);
        link.pass(50_000_000);

        assertEquals(2, load.measure().currentA(), 2e-6);
        load.checkHealth();
        assertFalse(load.hasWatchdog());
    }

    @Test
    void aLostAnswerIsEnoughToRefuseWhatCannotBeReadBack() throws Exception {
        ScpiElectronicLoad load = load(Map.of(LoadCommand.PROTECT_POWER_QUERY, ""), false);
        load.connect();
        boolean[] lost = {false};
        link.onTheWay = reply -> {
            boolean hit = !lost[0] && sent(":POW:PROT 100") == 1;
            lost[0] |= hit;
            return hit ? null : reply;
        };

        assertThrows(InstrumentException.class, () -> load.protect(new LoadProtection(5, 20, 100)));
        assertTrue(lost[0]);
    }

    @Test
    void expectsTheInputOffAfterAModeChangeWhereTheDialectSaysSo() throws Exception {
        ScpiElectronicLoad load = load(Map.of(), true);
        load.connect();
        load.set(LoadMode.CURRENT, 1);
        load.input(true);
        toDevice = line -> line.replace(":FUNC VOLT", ":FUNC VOLT;:INP OFF");

        load.set(LoadMode.VOLTAGE, 5);

        assertFalse(load.inputOn());
        load.checkHealth();
    }

    @Test
    void noticesAnInputThatWentOffByItself() throws Exception {
        ScpiElectronicLoad load = standard();
        load.connect();
        load.set(LoadMode.CURRENT, 1);
        load.input(true);
        device.receive(":INP OFF\n".getBytes(StandardCharsets.US_ASCII), reply -> {});

        InstrumentException noticed = assertThrows(InstrumentException.class, load::checkHealth);

        assertTrue(noticed.toString().contains("wanted on, as set, got off"), noticed.toString());
    }

    @Test
    void noticesAnInputThatWentOnByItself() throws Exception {
        ScpiElectronicLoad load = standard();
        load.connect();
        device.receive(":INP ON\n".getBytes(StandardCharsets.US_ASCII), reply -> {});

        assertThrows(InstrumentException.class, load::checkHealth);
    }

    @Test
    void noticesThatProtectionLevelsWereLostBehindLostReplies() throws Exception {
        ScpiElectronicLoad load = standard();
        load.connect();
        load.protect(new LoadProtection(5, 20, 100));
        boolean[] lost = {false};
        link.onTheWay = reply -> {
            boolean hit = !lost[0];
            lost[0] = true;
            return hit ? null : reply;
        };
        load.measure(); // one reply lost: the driver has to find its feet
        link.onTheWay = reply -> reply;
        device.powerCycle();
        device.receive("*ESR?\n".getBytes(StandardCharsets.US_ASCII), reply -> {}); // the bit is lost as well

        InstrumentException noticed = assertThrows(InstrumentException.class, load::checkHealth);

        assertTrue(noticed.toString().contains(":CURR:PROT?"), noticed.toString());
    }

    @Test
    void namesTheBitsOfTheQuestionableRegister() throws Exception {
        ScpiElectronicLoad load = standard();
        load.connect();
        link.onTheWay = reply -> reply.equals("0\n") && last().equals(":STAT:QUES?\n") ? "274\n" : reply;

        InstrumentException noticed = assertThrows(InstrumentException.class, load::checkHealth);

        // 274 = 256 + 16 + 2
        assertTrue(
                noticed.toString().contains("current (bit 1), temperature (bit 4), calibration (bit 8)"),
                noticed.toString());
    }

    private String last() {
        return link.written.get(link.written.size() - 1);
    }

    @Test
    void refusesADialectWordTheDeviceDoesNotKnowAndSaysSo() throws Exception {
        ScpiElectronicLoad load = load(Map.of(LoadCommand.MODE_CURRENT, ":MODE CC"), false);
        load.connect();

        InstrumentException refused = assertThrows(InstrumentException.class, () -> load.set(LoadMode.CURRENT, 1));

        assertTrue(refused.toString().contains("-113"), refused.toString());
        assertTrue(refused.toString().contains("dialect"), refused.toString());
    }

    @Test
    void refusesLevelsThatAreNoLevels() {
        assertThrows(IllegalArgumentException.class, () -> standard().set(LoadMode.CURRENT, -1));
        assertThrows(IllegalArgumentException.class, () -> standard().set(LoadMode.CURRENT, Double.NaN));
    }

    @Test
    void aDeadDeviceEndsInATroubleThatNamesTheLinkAndCloseStillSendsOff() throws Exception {
        ScpiElectronicLoad load = standard();
        load.connect();
        load.set(LoadMode.CURRENT, 1);
        load.input(true);
        device.fault(LoadFault.SILENT, true);

        LinkException trouble = assertThrows(LinkException.class, load::measure);
        assertTrue(trouble.toString().contains("link bench-load"), trouble.toString());
        assertFalse(trouble instanceof LinkTimeoutException, "silence is a link that is down");
        load.close();
        assertFalse(device.inputOn());
        assertTrue(link.closed);
    }

    @Test
    void anIdentityWithoutFourFieldsIsTakenWhole() {
        assertEquals(new Identity("LOAD 7", "0", "", false), ScpiInstrument.identity("LOAD 7"));
        assertEquals(new Identity("A B", "0", "1,2", false), ScpiInstrument.identity("A, B, ,1,2"));
    }
}
