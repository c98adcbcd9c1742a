package railproof.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import railproof.base.VirtualClock;
import railproof.sim.device.AdcChannel;
import railproof.sim.device.AnalogSource;
import railproof.sim.device.BoardOutputs;
import railproof.sim.device.BoardSettings;
import railproof.sim.device.SimulatedBoard;
import railproof.wire.MemoryLink;

/** A board with all 32 channels: the highest bit of a mask is a channel like any other. */
class WideBoardTest {
    private static final double STEP_V = 20.48 / 65536;
    private static final int ALL = -1;
    private static final int HIGHEST = 1 << 31;

    /** Channel c lies at c/4 V. */
    private static final class Stairs implements AnalogSource {
        @Override
        public void advanceTo(double timeS) {}

        @Override
        public double voltageV(int channel) {
            return channel / 4.0;
        }
    }

    private final VirtualClock clock = new VirtualClock(Instant.EPOCH);
    private final FramedDaqBoard driver = board(32);

    private FramedDaqBoard board(int channels) {
        List<AdcChannel> inputs = IntStream.range(0, channels)
                .mapToObj(c -> AdcChannel.ideal("in " + c, -10.24, 10.24))
                .toList();
        SimulatedBoard board = new SimulatedBoard(
                BoardSettings.standard("B-0032", inputs, 3), new Stairs(), BoardOutputs.none(), clock.nowNs());
        return new FramedDaqBoard("wide", new MemoryLink("wide", clock, board), "B-0032", () -> 77);
    }

    @BeforeEach
    void connect() throws Exception {
        driver.connect();
    }

    @Test
    void saysThatItHas32Channels() throws Exception {
        assertEquals(32, driver.capability().channelCount());
        assertEquals("in 31", driver.channelInfo(31).name());
    }

    @Test
    void readsAll32ChannelsAtOnce() throws Exception {
        List<ChannelSums> sums = driver.read(ALL, 4096, 5);

        assertEquals(32, sums.size());
        for (int c = 0; c < 32; c++) {
            assertEquals(c, sums.get(c).channel());
            // c/4 V is a whole number of steps of 312.5 uV: no rounding
            assertEquals(c / 4.0, sums.get(c).meanCode() * STEP_V, 1e-9);
        }
    }

    @Test
    void readsTheHighestChannelAlone() throws Exception {
        List<ChannelSums> sums = driver.read(HIGHEST, 2, 5);

        assertEquals(1, sums.size());
        assertEquals(31, sums.get(0).channel());
        assertEquals(24800, sums.get(0).minCode());
    }

    @Test
    void capturesAll32ChannelsInSeveralPieces() throws Exception {
        CaptureBlock block = driver.capture(CaptureRequest.now(ALL, 50, 4096));

        for (int c = 0; c < 32; c++) {
            int[] codes = block.codes(c);
            assertEquals(4096, codes.length);
            assertEquals(c * 800, codes[0]);
            assertEquals(c * 800, codes[4095]);
        }
    }

    @Test
    void capturesTheHighestChannelAlone() throws Exception {
        assertEquals(24800, driver.capture(CaptureRequest.now(HIGHEST, 50, 10)).codes(31)[9]);
    }

    @Test
    void tripsOnTheHighestChannel() throws Exception {
        driver.arm(2000);
        driver.tripLimit(31, -32768, 24799, 0);
        clock.sleepNs(10_000_000);

        assertEquals(BoardState.TRIPPED, driver.status().state());
        assertTrue(driver.faultText().contains("channel 31 at code 24800"), driver.faultText());
    }

    @Test
    void refusesAChannelThatABoardOf31DoesNotHave() throws Exception {
        FramedDaqBoard narrow = board(31);
        narrow.connect();

        assertEquals(31, narrow.read(ALL >>> 1, 1, 5).size());
        InstrumentException refused = assertThrows(InstrumentException.class, () -> narrow.read(ALL, 1, 5));
        assertTrue(refused.toString().contains("BAD_VALUE"), refused.toString());
    }
}
