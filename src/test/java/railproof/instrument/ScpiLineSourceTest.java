package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import railproof.sim.device.LineFault;
import railproof.sim.device.LineRatings;
import railproof.sim.device.SimulatedLineSource;
import railproof.wire.ScpiSettings;

class ScpiLineSourceTest {
    private final SimulatedLineSource device = new SimulatedLineSource(LineRatings.IDEAL, 1);
    private final DeviceOnALink link = new DeviceOnALink(device::receive, now -> {});
    private final ScpiLineSource source = new ScpiLineSource("line", link, LineDialect.standard());

    @Test
    void sendsOffFirstAndSaysWhoAnswered() throws Exception {
        Identity identity = source.connect();

        assertEquals("\n:OUTP OFF\n", link.written.get(0));
        assertEquals("RAILPROOF SIMULATED LINE SOURCE 300V", identity.model());
        assertTrue(identity.simulated());
    }

    @Test
    void feedsWhatItWasSetTo() throws Exception {
        source.connect();
        source.set(207, 50);
        assertEquals(0, device.rmsV(), 0);
        source.output(true);

        assertEquals(207, device.rmsV(), 1e-9);
        assertEquals(50, device.frequencyHz(), 0);
        // the reply has seven digits
        assertEquals(207, source.measureRmsV(), 5e-5);
        source.checkHealth();
        source.output(false);
        assertEquals(0, device.rmsV(), 0);
    }

    @Test
    void refusesALineTheSourceCannotGive() throws Exception {
        source.connect();

        InstrumentException refused = assertThrows(InstrumentException.class, () -> source.set(400, 50));

        assertTrue(refused.toString().contains("-222"), refused.toString());
        assertThrows(InstrumentException.class, () -> source.set(230, 400));
    }

    @Test
    void noticesASourceThatDoesNotGoOff() throws Exception {
        source.connect();
        source.set(230, 50);
        source.output(true);
        device.fault(LineFault.IGNORES_OFF, true);

        assertThrows(InstrumentException.class, () -> source.output(false));
    }

    @Test
    void noticesAPowerCycle() throws Exception {
        source.connect();
        source.checkHealth();
        device.powerCycle();

        assertThrows(InstrumentException.class, source::checkHealth);
    }

    @Test
    void emergencyOffAndCloseSwitchOff() throws Exception {
        source.connect();
        source.set(230, 50);
        source.output(true);
        assertTrue(source.emergencyOff());
        assertFalse(device.outputOn());
        source.output(true);
        source.close();
        assertFalse(device.outputOn());
        assertTrue(link.closed);
    }

    @Test
    void refusesAnotherDevice() {
        ScpiSettings plain = ScpiSettings.STANDARD;
        ScpiSettings picky = new ScpiSettings(
                plain.terminatorOut(),
                plain.commandGap(),
                plain.replyTimeout(),
                plain.maxLineLength(),
                plain.echo(),
                plain.errorQuery(),
                plain.ignoredErrors(),
                plain.operationComplete(),
                "OTHER SOURCE");
        ScpiLineSource other = new ScpiLineSource("line", link, new LineDialect("picky", picky, Map.of()));

        InstrumentException refused = assertThrows(InstrumentException.class, other::connect);

        assertTrue(refused.toString().contains("SIMULATED LINE SOURCE"), refused.toString());
    }

    @Test
    void aDialectMustHaveItsMandatoryCommands() {
        assertThrows(
                IllegalArgumentException.class,
                () -> new LineDialect("broken", ScpiSettings.STANDARD, Map.of(LineCommand.OUTPUT_OFF, "")));
    }
}
