package railproof.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.base.Measured;
import railproof.base.VirtualClock;
import railproof.instrument.CaptureBlock;
import railproof.instrument.CaptureRequest;
import railproof.instrument.DeviceClock;
import railproof.instrument.FramedDaqBoard;
import railproof.signal.Cycles;
import railproof.signal.LineFrequency;
import railproof.sim.device.AdcChannel;
import railproof.sim.device.AnalogSource;
import railproof.sim.device.BoardOutputs;
import railproof.sim.device.BoardSettings;
import railproof.sim.device.SimulatedBoard;
import railproof.wire.MemoryLink;

/** A board whose crystal is off, seen over the wire by the program's own driver. */
final class BoardClockErrorTest {
    private static final double LINE_HZ = 50;
    private static final double MEAN_V = 5.000_31;
    private static final double STEP_V = 20.0 / 65536;

    /** Input 0: a 50 Hz line. Input 1: 5 V with 1 V of 100 Hz on it. */
    private static final class Hum implements AnalogSource {
        private double timeS;

        @Override
        public void advanceTo(double nowS) {
            timeS = nowS;
        }

        @Override
        public double voltageV(int channel) {
            double angle = 2 * Math.PI * LINE_HZ * timeS;
            return channel == 0 ? 8 * Math.sin(angle) : MEAN_V + 0.5 * Math.sin(2 * angle + 0.7);
        }
    }

    private final VirtualClock clock = new VirtualClock(Instant.EPOCH);

    private FramedDaqBoard board(double errorRatio) {
        List<AdcChannel> inputs = List.of(AdcChannel.ideal("line", -10, 10), AdcChannel.ideal("out", -10, 10));
        SimulatedBoard board = new SimulatedBoard(
                BoardSettings.standard("B-0001", inputs, 7).withClockErrorRatio(errorRatio),
                new Hum(),
                BoardOutputs.none(),
                clock.nowNs());
        return new FramedDaqBoard("daq", new MemoryLink("daq", clock, board), "B-0001", () -> 5);
    }

    @ParameterizedTest
    @ValueSource(doubles = {80e-6, -80e-6, 0, 35.5e-6})
    void regressionOverClockReadingsFindsTheError(double errorRatio) throws Exception {
        FramedDaqBoard driver = board(errorRatio);
        driver.connect();
        DeviceClock readings = new DeviceClock(driver.capability().tickHz());
        for (int i = 0; i < 60; i++) {
            driver.readClock().ifPresent(readings::add);
            clock.sleepNs(1_000_000_000L);
        }

        // ticks of 1 µs over 60 s: 0.03 ppm at worst; a fast board's ticks are short
        assertEquals(1 / (1 + errorRatio) - 1, readings.driftRatio(), 0.05e-6);
    }

    @ParameterizedTest
    @ValueSource(doubles = {80e-6, -80e-6, 0})
    void theLineFrequencyIsOffByItAndWholeCycleMeansAreNot(double errorRatio) throws Exception {
        FramedDaqBoard driver = board(errorRatio);
        driver.connect();
        CaptureBlock block = driver.capture(CaptureRequest.now(0b11, 50, 20_000));
        double rateHz = driver.capability().tickHz() / (double) block.periodTicks();
        double[] lineV = volts(block.codes(0));
        double[] outV = volts(block.codes(1));

        Measured seen = LineFrequency.ofLine(lineV, rateHz).measured().orElseThrow();
        double meanV = Cycles.in(outV.length, rateHz, seen.value()).mean(outV);

        // the true line, counted in seconds of the board; 1 s of a clean sine at 20 kHz gives it to far below 1 ppm
        assertEquals(LINE_HZ / (1 + errorRatio), seen.value(), LINE_HZ * 2e-6);
        // whole cycles of the frequency as seen are whole cycles: 20 000 samples average the rounding of a step away
        assertEquals(MEAN_V, meanV, 0.02 * STEP_V);
    }

    @Test
    void eachScanIsTakenAtTheTickThatItsBlockNames() throws Exception {
        FramedDaqBoard driver = board(500e-6);
        driver.connect();
        CaptureBlock block = driver.capture(CaptureRequest.now(0b01, 200, 5000));
        double[] lineV = volts(block.codes(0));
        double startS = block.startTicks() * 1e-6 / (1 + 500e-6);

        double worstV = 0;
        for (int i = 0; i < lineV.length; i++) {
            double trueS = startS + i * 200e-6 / (1 + 500e-6);
            worstV = Math.max(worstV, Math.abs(lineV[i] - 8 * Math.sin(2 * Math.PI * LINE_HZ * trueS)));
        }

        // half a step of rounding, and a nanosecond of 8 V at 50 Hz is 2.5 µV
        assertTrue(worstV < 0.51 * STEP_V, "off by " + worstV);
    }

    private static double[] volts(int[] codes) {
        return Arrays.stream(codes).mapToDouble(code -> code * STEP_V).toArray();
    }
}
