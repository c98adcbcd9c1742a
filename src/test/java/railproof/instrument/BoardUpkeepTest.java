package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** The stored record, the self-test, the cable's test and the restart of the simulated board. */
class BoardUpkeepTest {
    private static final int ADC_FAULT = 1 << 6;
    private static final int ALL =
            BoardUpkeep.OUTPUTS | BoardUpkeep.CONVERTER | BoardUpkeep.STORAGE | BoardUpkeep.MEMORY;

    private final SimulatedBench bench = new SimulatedBench();
    private final FramedDaqBoard driver = bench.driver;
    private BoardUpkeep upkeep;

    @BeforeEach
    void connect() throws Exception {
        driver.connect();
        upkeep = driver.upkeep();
    }

    private static byte[] record(int length, long seed) {
        byte[] record = new byte[length];
        new Random(seed).nextBytes(record);
        return record;
    }

    @Test
    void aRecordOfAnyLengthOutlivesThePower() throws Exception {
        assertTrue(upkeep.read().isEmpty());
        long generation = 0;
        for (int length : new int[] {1, 1011, 1012, 1013, upkeep.room()}) {
            byte[] record = record(length, length);
            generation++;
            assertEquals(generation, upkeep.write(record));

            bench.board.powerCycle();
            driver.connect();
            upkeep = driver.upkeep();

            BoardUpkeep.StoredRecord read = upkeep.read().orElseThrow();
            assertArrayEquals(record, read.bytes());
            assertEquals(generation, read.generation());
        }
    }

    @Test
    void aDamagedRecordIsFoundByTheSelfTestAndTheOneBeforeComesBackWithTheNextStart() throws Exception {
        byte[] old = record(200, 1);
        upkeep.write(old);
        upkeep.write(record(300, 2));
        bench.board.damageRecord();

        assertEquals(new BoardUpkeep.SelfTest(ALL, BoardUpkeep.STORAGE), upkeep.selfTest(-1));
        InstrumentException bad = assertThrows(InstrumentException.class, upkeep::read);
        assertTrue(bad.toString().contains("checksum"), bad.toString());

        upkeep.restart();
        driver.connect();
        assertArrayEquals(old, driver.upkeep().read().orElseThrow().bytes());
    }

    @Test
    void theWriteProtectSwitchLocks() throws Exception {
        bench.board.writeProtect(true);

        InstrumentException locked = assertThrows(InstrumentException.class, () -> upkeep.write(record(10, 3)));

        assertTrue(locked.toString().contains("LOCKED"), locked.toString());
        assertTrue(upkeep.read().isEmpty());
    }

    @Test
    void aBadConverterFailsTheSelfTestAndTripsTheBoard() throws Exception {
        assertEquals(new BoardUpkeep.SelfTest(ALL, 0), upkeep.selfTest(-1));

        bench.board.causes(ADC_FAULT);

        assertTrue(driver.faultText().startsWith("ADC_FAULT"), driver.faultText());
        InstrumentException stays = assertThrows(InstrumentException.class, driver::clearFaults);
        assertTrue(stays.toString().contains("ADC_FAULT"), stays.toString());
        bench.board.causes(0);
        driver.clearFaults();
        assertEquals(BoardState.SAFE, driver.status().state());
    }

    @Test
    void anArmedBoardRefusesAllOfIt() throws Exception {
        driver.arm(1000);

        assertThrows(InstrumentException.class, () -> upkeep.write(record(10, 4)));
        assertThrows(InstrumentException.class, () -> upkeep.selfTest(-1));
        InstrumentException refused = assertThrows(InstrumentException.class, upkeep::restart);

        assertTrue(refused.toString().contains("BAD_STATE"), refused.toString());
        assertEquals(BoardState.ARMED, driver.status().state());
    }

    @Test
    void aRestartLosesTheSettingsAndHasToBeConnectedToAnew() throws Exception {
        driver.tripLimit(0, -10, 10, 0);

        upkeep.restart();

        InstrumentException another = assertThrows(InstrumentException.class, driver::status);
        assertTrue(another.toString().contains("(RESET)"), another.toString());
        driver.connect();
        driver.arm(1000);
        bench.clock.sleepNs(50_000_000);
        assertEquals(BoardState.ARMED, driver.heartbeat().state(), "the limit is gone");
    }

    @Test
    void aBoardThatItsWatchdogRestartedStaysTrippedUntilSomebodyClearsIt() throws Exception {
        bench.board.watchdogReset();
        bench.clock.sleepNs(20_000_000);

        InstrumentException another = assertThrows(InstrumentException.class, driver::status);

        assertTrue(another.toString().contains("(watchdog)"), another.toString());
        assertTrue(driver.faultText().startsWith("WATCHDOG_RESET"), driver.faultText());
        driver.connect(); // clears, because the cause is gone
        assertEquals(BoardState.SAFE, driver.status().state());
    }

    @Test
    void bytesOfAnyKindComeBackFromTheBoard() throws Exception {
        for (int length : new int[] {0, 1, 253, 254, 255, 1023, 1024}) {
            upkeep.echo(new byte[length]);
            upkeep.echo(record(length, length));
        }
        assertThrows(IllegalArgumentException.class, () -> upkeep.echo(new byte[1025]));
    }
}
