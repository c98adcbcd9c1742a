package railproof.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.BadFileException;
import railproof.run.Point;
import railproof.run.RunEvent;

class DiskTroubleTest {
    private final Path data;

    DiskTroubleTest(@TempDir Path data) {
        this.data = data;
    }

    @Test
    void whicheverOperationTheDiskRefusesTheErrorNamesTheFileAndTheRestIsKept() throws IOException, BadFileException {
        RandomRuns.Script script = new RandomRuns(201).script(7);
        RecordingStore counting = new RecordingStore().withoutForcing();
        writeRetrying(counting, data.resolve("fine"), script, new ArrayList<>());
        int operations = counting.asked();
        assertTrue(operations > 50, "only " + operations);
        for (int n = 0; n < operations; n++) {
            RecordingStore store = new RecordingStore().withoutForcing();
            store.refuse(n);
            List<RecordException> troubles = new ArrayList<>();
            Path directory = data.resolve("refused" + n);
            Path folder = writeRetrying(store, directory, script, troubles);
            assertEquals(1, troubles.size(), "operation " + n);
            RecordException trouble = troubles.get(0);
            assertTrue(
                    String.valueOf(trouble.getMessage()).contains(trouble.file().toString()),
                    String.valueOf(trouble.getMessage()));
            assertTrue(
                    String.valueOf(trouble.getMessage()).contains("No space left on device"),
                    String.valueOf(trouble.getMessage()));
            assertTrue(trouble.file().startsWith(directory), String.valueOf(trouble.getMessage()));
            // after one refusal everything was appended again, and nothing half-written stayed in between
            assertEquals(script.whole().points(), RunFolder.read(folder).points(), "operation " + n);
            assertEquals(script.whole().events(), RunFolder.read(folder).events(), "operation " + n);
        }
    }

    @Test
    void aDataDirectoryThatIsAFileIsSaid() throws IOException {
        Path file = Files.createFile(data.resolve("data"));
        RecordException e =
                assertThrows(RecordException.class, () -> RunFolderWriter.open(file, new RandomRuns(202).header()));
        assertTrue(String.valueOf(e.getMessage()).contains(file.toString()), String.valueOf(e.getMessage()));
    }

    @Test
    void aSnapshotWhoseDigestIsWrongIsRefusedBeforeAnythingIsWritten() throws IOException {
        railproof.run.RunHeader h = new RandomRuns(203).header();
        railproof.run.RunHeader wrong = new railproof.run.RunHeader(
                h.runId(),
                h.unitSerial(),
                h.stage(),
                h.operator(),
                h.startedAt(),
                h.softwareVersion(),
                new railproof.profile.SourceText("p", "text", "00"),
                h.rig(),
                h.calibration(),
                false,
                "",
                List.of());
        assertThrows(IllegalArgumentException.class, () -> RunFolderWriter.open(data, wrong));
        assertEquals(List.of(), RunFolder.runs(data));
    }

    @Test
    void aReadingInTheWrongUnitIsRefused() throws IOException {
        Point good = new RandomRuns(204).point(0, java.util.OptionalInt.empty());
        Point bad = new Point(
                0,
                good.section(),
                "r",
                good.asked(),
                0,
                true,
                java.util.Map.of(
                        railproof.run.Quantity.OUTPUT, railproof.base.Measured.of(1, 0, railproof.base.Unit.AMPERE)),
                java.util.OptionalInt.empty(),
                "");
        try (RunFolderWriter writer = RunFolderWriter.open(data, new RandomRuns(205).header())) {
            assertThrows(IllegalArgumentException.class, () -> writer.append(new RunEvent.PointTaken(0, bad)));
        }
    }

    private static Path writeRetrying(
            RecordingStore store, Path directory, RandomRuns.Script script, List<RecordException> troubles)
            throws RecordException {
        RunFolderWriter opened;
        try {
            opened = RunFolderWriter.open(store, directory, script.header());
        } catch (RecordException e) {
            troubles.add(e);
            opened = RunFolderWriter.open(store, directory, script.header());
        }
        try (RunFolderWriter writer = opened) {
            for (RunEvent event : script.events()) {
                try {
                    writer.append(event);
                } catch (RecordException e) {
                    troubles.add(e);
                    writer.append(event);
                }
            }
            return writer.folder();
        }
    }
}
