package railproof.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.base.BadFileException;
import railproof.base.Measured;
import railproof.base.Problem;
import railproof.base.Reading;
import railproof.run.ChannelAccuracy;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunData;
import railproof.run.RunEvent;

/** Runs that an earlier version of the program left behind. */
class RunFormatTest {
    private static final String LEAD_COLUMN = "output_voltage_u_lead_V";

    private final Path data;

    RunFormatTest(@TempDir Path data) {
        this.data = data;
    }

    @ParameterizedTest(name = "seed {0}")
    @ValueSource(longs = {51, 52, 53, 54, 55, 56, 57, 58})
    void aRunOfTheFirstFormatIsReadWithNothingKnownOfItsLeads(long seed) throws IOException, BadFileException {
        RandomRuns.Script script = new RandomRuns(seed).script(60);
        Path folder = RunFolderRoundTripTest.write(data, script);
        withoutLeads(folder);
        edit(folder, "run.json", RunFormatTest::asFirstFormat);

        RunFolderRoundTripTest.assertSameRun(withoutLeads(script.whole()), RunFolder.read(folder));
        assertEquals(script.header(), RunSummary.of(folder).header());
    }

    /** Builds of one day wrote the column and still called it the first format: what stands there counts. */
    @Test
    void aLeadDropThatStandsInARunOfTheFirstFormatCounts() throws IOException, BadFileException {
        RandomRuns.Script script = new RandomRuns(59).script(15);
        Path folder = RunFolderRoundTripTest.write(data, script);
        edit(folder, "run.json", RunFormatTest::asFirstFormat);

        RunFolderRoundTripTest.assertSameRun(script.whole(), RunFolder.read(folder));
    }

    @Test
    void inTheCurrentFormatALostLeadDropIsAProblemAtItsRowAndItsEvent() throws IOException {
        Path folder = RunFolderRoundTripTest.write(data, new RandomRuns(60).script(60));
        withoutLeads(folder);

        List<Problem> problems = assertThrows(BadFileException.class, () -> RunFolder.read(folder))
                .problems();

        assertTrue(problems.stream().anyMatch(p -> p.key().equals(LEAD_COLUMN) && p.line() > 1), problems.toString());
        assertTrue(problems.stream().anyMatch(p -> p.key().equals("lead_u_ohm") && p.line() >= 1), problems.toString());
    }

    @Test
    void aLaterFormatIsRefusedWithItsNumberAndTheOnesThatCanBeRead() throws IOException {
        Path folder = RunFolderRoundTripTest.write(data, new RandomRuns(61).script(3));
        edit(folder, "run.json", text -> text.replace("\"format_version\" : 3", "\"format_version\" : 4"));

        List<Problem> problems = assertThrows(BadFileException.class, () -> RunFolder.read(folder))
                .problems();

        assertEquals(1, problems.size(), problems.toString());
        assertEquals("format_version", problems.get(0).key());
        assertTrue(
                problems.get(0).message().contains("is 4; this program reads 1, 2 and 3"),
                problems.get(0).text());
    }

    /** New rows have a column more than the file's heading. */
    @Test
    void aRunOfTheFirstFormatIsNotGoneOnWith() throws IOException, BadFileException, RecordException {
        Path folder = RunFolderRoundTripTest.write(data, new RandomRuns(62).script(3));
        Files.delete(folder.resolve(RunFolder.END_FILE));
        try (BrokenOffRun held = BrokenOffRun.hold(folder)) {
            assertEquals(folder, held.folder());
        }
        edit(folder, "run.json", RunFormatTest::asFirstFormat);

        BadFileException e = assertThrows(BadFileException.class, () -> BrokenOffRun.hold(folder));

        assertTrue(String.valueOf(e.getMessage()).contains("is of format 1"), String.valueOf(e.getMessage()));
    }

    private static String asFirstFormat(String json) {
        return json.replace("\"format_version\" : 3", "\"format_version\" : 1");
    }

    /** As the files looked before anything was known of the leads. */
    private static void withoutLeads(Path folder) throws IOException {
        edit(folder, PointsTable.FILE, text -> {
            List<List<CsvText.Cell>> rows =
                    CsvText.parse(PointsTable.FILE, text, new ArrayList<>()).rows();
            List<String> heading = rows.get(0).stream().map(CsvText.Cell::text).toList();
            int at = heading.indexOf(LEAD_COLUMN);
            StringBuilder out = new StringBuilder();
            for (List<CsvText.Cell> row : rows) {
                List<String> cells =
                        new ArrayList<>(row.stream().map(CsvText.Cell::text).toList());
                cells.remove(at);
                out.append(Cells.line(cells));
            }
            return out.toString();
        });
        edit(folder, EventJson.FILE, text -> text.replaceAll(",\"lead_u_ohm\":[^,}]+", ""));
    }

    private static void edit(Path folder, String file, UnaryOperator<String> edit) throws IOException {
        String before = Files.readString(folder.resolve(file));
        String after = edit.apply(before);
        assertTrue(!before.equals(after), "the edit of " + file + " must change something");
        Files.writeString(folder.resolve(file), after);
    }

    private static RunData withoutLeads(RunData run) {
        return new RunData(
                run.header(),
                run.points().stream().map(RunFormatTest::withoutLead).toList(),
                run.waveforms(),
                run.events().stream().map(RunFormatTest::withoutLead).toList(),
                run.outcome());
    }

    private static Point withoutLead(Point point) {
        Map<Quantity, Reading> readings = new EnumMap<>(Quantity.class);
        point.readings()
                .forEach((quantity, reading) ->
                        readings.put(quantity, reading instanceof Measured m ? m.withLead(0) : reading));
        return new Point(
                point.index(),
                point.section(),
                point.rail(),
                point.asked(),
                point.elapsedS(),
                point.settled(),
                readings,
                point.waveform(),
                point.note());
    }

    private static RunEvent withoutLead(RunEvent event) {
        if (!(event instanceof RunEvent.ChannelUsed used)) {
            return event;
        }
        ChannelAccuracy a = used.accuracy();
        return new RunEvent.ChannelUsed(
                used.elapsedS(),
                new ChannelAccuracy(
                        a.rail(),
                        a.quantity(),
                        a.channel(),
                        a.gainURatio(),
                        a.offsetUDimensionless(),
                        a.fitGainURatio(),
                        a.fitPivotDimensionless(),
                        a.nonLinearityUDimensionless(),
                        a.noiseRmsDimensionless(),
                        a.stepDimensionless(),
                        a.driftURatio(),
                        0,
                        a.calibration()));
    }
}
