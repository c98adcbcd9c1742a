package railproof.record;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.StringReader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Pattern;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.base.BadFileException;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.Waveform;

class RunFolderRoundTripTest {
    private final Path data;

    RunFolderRoundTripTest(@TempDir Path data) {
        this.data = data;
    }

    @ParameterizedTest(name = "seed {0}")
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20})
    void everyRunReadsBackBitForBit(long seed) throws IOException, BadFileException {
        RandomRuns.Script script = new RandomRuns(seed).script(15);
        Path folder = write(data, script);
        assertSameRun(script.whole(), RunFolder.read(folder));
    }

    @ParameterizedTest(name = "seed {0}")
    @ValueSource(longs = {21, 22, 23, 24, 25})
    void anIndependentCsvReaderSeesTheSameCells(long seed) throws IOException {
        Path folder = write(data, new RandomRuns(seed).script(30));
        String text = Files.readString(folder.resolve("points.csv"));
        CsvText own = CsvText.parse("points.csv", text, new java.util.ArrayList<>());
        try (CSVParser parser = CSVParser.parse(new StringReader(text), CSVFormat.RFC4180)) {
            List<List<String>> theirs =
                    parser.getRecords().stream().map(CSVRecord::toList).toList();
            List<List<String>> ours = own.rows().stream()
                    .map(row -> row.stream().map(CsvText.Cell::text).toList())
                    .toList();
            assertEquals(theirs, ours);
        }
    }

    @ParameterizedTest(name = "seed {0}")
    @ValueSource(longs = {31, 32, 33, 34, 35, 36, 37, 38})
    void noCellCanBeTakenForAFormula(long seed) throws IOException {
        Path folder = write(data, new RandomRuns(seed).script(30));
        Pattern number = Pattern.compile("-?[0-9.]+(E-?[0-9]+)?");
        String text = Files.readString(folder.resolve("points.csv"));
        for (List<CsvText.Cell> row :
                CsvText.parse("p", text, new java.util.ArrayList<>()).rows()) {
            for (CsvText.Cell cell : row) {
                // the characters that make spreadsheets evaluate a cell: common security advice on CSV files
                String start = cell.text().strip();
                if (!start.isEmpty() && "=+-@＝＋－＠\t\r\n".indexOf(start.charAt(0)) >= 0) {
                    assertTrue(number.matcher(cell.text()).matches(), () -> "cell " + cell);
                }
            }
        }
    }

    @Test
    void linesEndInCrLfAndEveryHeadingOfANumberCarriesItsUnit() throws IOException {
        Path folder = write(data, new RandomRuns(41).script(1));
        String text = Files.readString(folder.resolve("points.csv"));
        assertTrue(text.endsWith("\r\n"));
        List<String> heading = List.of(text.substring(0, text.indexOf("\r\n")).split(",", -1));
        assertTrue(heading.containsAll(
                List.of("output_voltage_V", "output_voltage_u_var_V", "output_voltage_u_shared_V", "elapsed_s")));
        for (String column : heading) {
            assertTrue(
                    column.matches(".*_(V|A|Ohm|Hz|C|s|cycles)")
                            || column.matches("index|section|rail|asked_mode|settled|waveform|note|.*_dof|.*_missing"),
                    column);
        }
    }

    @Test
    void twoRunsOfTheSameSecondGetTwoFolders() throws IOException, BadFileException {
        RandomRuns.Script script = new RandomRuns(42).script(2);
        Path first = write(data, script);
        Path second = write(data, script);
        assertNotEquals(first, second);
        assertEquals(first.getFileName() + "_2", second.getFileName().toString());
        assertEquals(
                second.getFileName().toString(), RunFolder.read(second).header().runId());
        assertEquals(script.whole().points(), RunFolder.read(first).points());
        assertEquals(List.of(first, second), RunFolder.runs(data));
    }

    @Test
    void aHostileRunIdStaysInsideTheDataDirectory() throws IOException {
        RandomRuns.Script script = new RandomRuns(43).script(1);
        for (String id :
                List.of("../../etc/passwd", "/etc", "..", "", ".hidden", "a/b\\c:d", "x".repeat(5000), "C:\\x")) {
            try (RunFolderWriter writer = RunFolderWriter.open(data, withId(script, id))) {
                Path folder = writer.folder();
                assertEquals(data.toRealPath(), folder.toRealPath().getParent(), id);
                assertFalse(folder.getFileName().toString().startsWith("."), id);
            }
        }
    }

    @Test
    void nothingFollowsTheEnd() throws IOException {
        RandomRuns.Script script = new RandomRuns(44).script(1);
        try (RunFolderWriter writer = RunFolderWriter.open(data, script.header())) {
            for (RunEvent event : script.events()) {
                writer.append(event);
            }
            assertThrows(
                    IllegalStateException.class,
                    () -> writer.append(script.events().get(0)));
        }
    }

    private static railproof.run.RunHeader withId(RandomRuns.Script script, String id) {
        railproof.run.RunHeader h = script.header();
        return new railproof.run.RunHeader(
                id,
                h.unitSerial(),
                h.stage(),
                h.operator(),
                h.startedAt(),
                h.softwareVersion(),
                h.profile(),
                h.rig(),
                h.calibration(),
                h.simulated(),
                h.simulatedUnit(),
                h.instruments());
    }

    static Path write(Path data, RandomRuns.Script script) throws IOException {
        RecordingStore quick = new RecordingStore().withoutForcing();
        try (RunFolderWriter writer = RunFolderWriter.open(quick, data, script.header())) {
            for (RunEvent event : script.events()) {
                writer.append(event);
            }
            return writer.folder();
        }
    }

    static void assertSameRun(RunData expected, RunData found) {
        assertEquals(expected.header(), found.header());
        assertEquals(expected.points(), found.points());
        assertEquals(expected.events(), found.events());
        assertEquals(expected.outcome(), found.outcome());
        assertEquals(expected.waveforms().size(), found.waveforms().size());
        for (int i = 0; i < expected.waveforms().size(); i++) {
            assertSameWaveform(expected.waveforms().get(i), found.waveforms().get(i));
        }
    }

    private static void assertSameWaveform(Waveform expected, Waveform found) {
        assertEquals(
                new Waveform(
                        expected.id(),
                        expected.section(),
                        expected.rail(),
                        expected.elapsedS(),
                        expected.rateHz(),
                        List.of()),
                new Waveform(found.id(), found.section(), found.rail(), found.elapsedS(), found.rateHz(), List.of()));
        assertEquals(expected.traces().size(), found.traces().size());
        for (int k = 0; k < expected.traces().size(); k++) {
            assertEquals(
                    expected.traces().get(k).column(), found.traces().get(k).column());
            // without a tolerance: equal to the last bit, the sign of zero included
            assertArrayEquals(
                    expected.traces().get(k).samples(), found.traces().get(k).samples());
        }
    }
}
