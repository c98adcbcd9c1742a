package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.wire.LinkException;
import railproof.wire.LinkTimeoutException;

/** The firmware on an emulated processor: what can be done to it from outside. */
@Tag("qemu")
@Tag("wallclock")
class CortexBoardTest extends EmulatedBoardTest {
    CortexBoardTest(@TempDir Path folder) throws Exception {
        super(EmulatedBoard.cortex(folder, new Ramps()));
    }

    @Test
    void aResetInTheMidstLeavesEverythingOffAndIsNoticed() throws Exception {
        activate(2000);

        board.ask("system_reset");

        awaitOff();
        InstrumentException restarted = assertThrows(InstrumentException.class, this::beatUntilItFails);
        assertTrue(restarted.toString().contains("boot id"), restarted.toString());
        driver.connect();
        assertEquals(BoardState.SAFE, driver.status().state());
    }

    private void beatUntilItFails() throws Exception {
        for (int k = 0; k < 100; k++) {
            driver.heartbeat();
            TimeUnit.MILLISECONDS.sleep(10);
        }
    }

    @Test
    void aBoardThatHangsIsNoticedAndGoesOffWhenItGoesOn() throws Exception {
        activate(500);
        board.ask("stop");
        assertThrows(LinkTimeoutException.class, driver::heartbeat);

        board.ask("cont");

        awaitOff();
        assertEquals(BoardState.TRIPPED, driver.status().state());
    }

    @Test
    void theWatchdogSwitchesAHungProgramOffAndIsRemembered() throws Exception {
        activate(2000);

        board.bench().hang();

        awaitOff();
        await("restart", this::answers);
        InstrumentException restarted = assertThrows(InstrumentException.class, driver::status);
        assertTrue(restarted.toString().contains("boot id"), restarted.toString());
    }

    private boolean answers() throws InterruptedException, IOException {
        try {
            driver.status();
            return false;
        } catch (LinkTimeoutException e) {
            return false;
        } catch (LinkException e) {
            throw new IOException(e);
        } catch (InstrumentException e) {
            return true; // another boot id
        }
    }

    @Test
    void theLampsAreSeenWithoutAskingTheFirmware() throws Exception {
        assertEquals(0, board.outputsOutside());
        driver.arm(2000);
        driver.relays(1, 1);
        assertEquals(CONTACTS, board.outputsOutside());
        assertFalse(driver.status().loadEnabled());
    }

    @Test
    void theDeviceClockIsMappedWithABound() throws Exception {
        DeviceClock clock = new DeviceClock(driver.capability().tickHz());
        for (int k = 0; k < 20; k++) {
            driver.readClock().ifPresent(clock::add);
        }
        ClockReading last = driver.readClock().orElseThrow();

        DeviceClock.Instant instant = clock.at(last.rxTicks());

        // the reading itself says between which host times the tick lies; both bounds must overlap. 10 us: an emulated
        // clock is read in steps
        assertTrue(instant.hostNs() + instant.boundNs() + 10_000 >= last.sentNs(), instant + " " + last);
        assertTrue(instant.hostNs() - instant.boundNs() - 10_000 <= last.receivedNs(), instant + " " + last);
    }
}
