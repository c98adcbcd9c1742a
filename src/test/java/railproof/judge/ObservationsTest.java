package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import railproof.base.Measured;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.run.Waveform;

/** Made-up captures and rows of which it is known what is in them. */
class ObservationsTest {
    private static final double RATE_HZ = 20_000;
    private static final double LINE_HZ = 60;
    private static final Setpoint LOADED = new Setpoint("CC", 2, 115);

    private static RunData run(List<Point> points, List<Waveform> waveforms) {
        RunData empty = BenchRun.empty().data();
        return new RunData(empty.header(), points, waveforms, List.of(), empty.outcome());
    }

    private static Point point(
            int index, Section section, double elapsedS, Map<Quantity, Reading> readings, OptionalInt waveform) {
        return new Point(index, section, "+5 V", LOADED, elapsedS, true, readings, waveform, "");
    }

    private static RunData rippling(DoubleUnaryOperator ofTimeS) {
        double[] samples = new double[4000];
        Arrays.setAll(samples, i -> ofTimeS.applyAsDouble(i / RATE_HZ));
        Waveform waveform = new Waveform(
                7, Section.LOAD_SWEEP, "+5 V", 1, RATE_HZ, List.of(new Waveform.Trace("output_V", samples)));
        Map<Quantity, Reading> readings =
                new EnumMap<>(Map.of(Quantity.LINE_FREQUENCY, Measured.of(LINE_HZ, 0.001, Unit.HERTZ)));
        return run(List.of(point(0, Section.LOAD_SWEEP, 1, readings, OptionalInt.of(7))), List.of(waveform));
    }

    private static String only(RunData run) {
        List<Observation> all = Observations.of(run);
        assertEquals(1, all.size(), all.toString());
        assertEquals("+5 V", all.get(0).rail());
        return all.get(0).words();
    }

    @Test
    void aSineOfTheLineIsSaidToBeHumWithItsSize() {
        String words = only(rippling(t -> 5 + 0.002 * Math.sqrt(2) * Math.sin(2 * Math.PI * LINE_HZ * t)));

        assertEquals("hum, a sine of the line at 60 Hz, 2 mV r.m.s., at CC 2 A, line 115 V", words);
    }

    @Test
    void aSawtoothAtTwiceTheLineWithAnOscillationNamesBothTheStrongerFirst() {
        String words =
                only(rippling(t -> 5 + 0.02 * (0.5 - 2 * LINE_HZ * t % 1) + 0.004 * Math.sin(2 * Math.PI * 3333 * t)));

        assertTrue(words.startsWith("two-way rectification at 120 Hz, 5."), words);
        assertTrue(words.contains("; oscillation at 333"), words);
    }

    @Test
    void oneHalfOfTheRectifierIsMissed() {
        String words = only(rippling(t -> 5 + 0.02 * (0.5 - LINE_HZ * t % 1)));

        assertTrue(words.startsWith("one-way rectification: one half does not conduct at 60 Hz"), words);
    }

    @Test
    void aQuietRailSaysSo() {
        assertEquals("nothing above the channel's own noise, at CC 2 A, line 115 V", only(rippling(t -> 5)));
    }

    /** Ten minutes of time constant, 20 mV of way, rows every 20 s with 0.2 mV of noise, then a cold start. */
    @Test
    void theWarmUpIsReadFromTheRowsBeforeTheFirstBreak() {
        Random random = new Random(20261125);
        List<Point> rows = new ArrayList<>();
        for (int i = 0; i < 180; i++) {
            double loadedS = 20.0 * i;
            boolean afterBreak = loadedS > 2400;
            double sinceS = afterBreak ? loadedS - 2400 : loadedS;
            Map<Quantity, Reading> readings = new EnumMap<>(Map.of(
                    Quantity.LOADED_TIME,
                    Measured.of(loadedS, 0, Unit.SECOND),
                    Quantity.OUTPUT,
                    Measured.of(
                            5 - 0.02 * (1 - Math.exp(-sinceS / 600)) + 2e-4 * random.nextGaussian(), 0, Unit.VOLT)));
            rows.add(point(i, Section.BURN_IN, 10 + loadedS + (afterBreak ? 300 : 0), readings, OptionalInt.empty()));
        }

        String words = only(run(rows, List.of()));

        assertTrue(
                words.matches("from (5|4\\.999\\d|5\\.000\\d) V to 4\\.9[78]\\d* V with a time constant of .*"), words);
        double minutes = Double.parseDouble(words.replaceAll(".*constant of ([0-9.]+) min.*", "$1"));
        double u = Double.parseDouble(words.replaceAll(".*± ([0-9.]+) min.*", "$1"));
        assertEquals(10, minutes, 1.5 * u, words);
        assertTrue(u < 1, words);
    }
}
