package railproof.judge;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.SourceText;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunHeader;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.run.Waveform;

/** Reservoirs of which the capacitance is known, behind a bridge: they fall evenly for four fifths of a half cycle. */
class ReservoirAgeTest {
    private static final double RATE_HZ = 20_000;
    private static final double LINE_HZ = 60;
    private static final double LOAD_A = 2;

    private static RunData run(String profileText, double capacitanceF) {
        double[] rawV = new double[4000];
        double fallV = LOAD_A / capacitanceF * 0.8 / (2 * LINE_HZ);
        for (int i = 0; i < rawV.length; i++) {
            double part = 2 * LINE_HZ * i / RATE_HZ % 1;
            rawV[i] = 20 - (part < 0.8 ? fallV * part / 0.8 : fallV * (1 - part) / 0.2);
        }
        Waveform waveform =
                new Waveform(7, Section.LOAD_SWEEP, "+12 V", 1, RATE_HZ, List.of(new Waveform.Trace("raw_V", rawV)));
        Point point = new Point(
                0,
                Section.LOAD_SWEEP,
                "+12 V",
                new Setpoint("CC", LOAD_A, 115),
                1,
                true,
                Map.of(
                        Quantity.LINE_FREQUENCY,
                        Measured.of(LINE_HZ, 0.001, Unit.HERTZ),
                        Quantity.LOAD_CURRENT,
                        Measured.of(LOAD_A, 0.001, Unit.AMPERE)),
                OptionalInt.of(7),
                "");
        RunData empty = BenchRun.empty().data();
        RunHeader old = empty.header();
        RunHeader header = new RunHeader(
                old.runId(),
                old.unitSerial(),
                old.stage(),
                old.operator(),
                old.startedAt(),
                old.softwareVersion(),
                SourceText.of("bench-12v", profileText),
                old.rig(),
                old.calibration(),
                old.simulated(),
                old.simulatedUnit(),
                old.instruments());
        return new RunData(header, List.of(point), List.of(waveform), List.of(), empty.outcome());
    }

    private static Optional<String> seen(RunData run) {
        return Observations.of(run).stream()
                .filter(one -> one.title().equals("Reservoir"))
                .map(Observation::words)
                .findFirst();
    }

    private static String bench12V() throws IOException {
        return Files.readString(Path.of("rigs/profiles/bench-12v.toml"));
    }

    /** The profile has 6800 µF. */
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            textBlock =
                    """
        6800 | 6800 | 100 |
        8160 | 8160 | 120 |
        5500 | 5500 |  81 |
        5400 | 5400 |  79 | : ageing, or at the end of a new one's tolerance
        4830 | 4830 |  71 | : ageing, or at the end of a new one's tolerance
        4690 | 4690 |  69 | : worn out, or not all of it connected
        680  |  680 |  10 | : worn out, or not all of it connected
        """)
    void theCapacitanceIsReadFromTheFallAndComparedWithTheProfiles(
            double capacitanceMicrofarad, String said, int percent, String age) throws IOException {
        assertEquals(
                "about " + said + " µF by its fall between two charging pulses, " + percent
                        + " % of the 6800 µF in the profile" + (age == null ? "" : age),
                seen(run(bench12V(), capacitanceMicrofarad * 1e-6)).orElseThrow());
    }

    @Test
    void withoutPartValuesOrAReadableProfileNothingIsSaid() throws IOException {
        String without = bench12V().replaceAll("(?s)\\[rails\\.parts].*?(?=\\n\\[|$)", "");
        assertTrue(without.length() < bench12V().length());

        assertEquals(Optional.empty(), seen(run(without, 6800e-6)));
        assertEquals(Optional.empty(), seen(run("name = ", 6800e-6)));
    }

    @Test
    void aReservoirThatNeverFallsSaysNothing() throws IOException {
        assertEquals(Optional.empty(), seen(run(bench12V(), 1e9)));
        // 10 µV, the least that counts without a word about the channel, in a twelve-hundredth of a second: 167 F
        assertEquals(Optional.empty(), seen(run(bench12V(), 170)));
        assertTrue(seen(run(bench12V(), 160)).isPresent());
    }
}
