package railproof.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import railproof.base.BadFileException;
import railproof.run.Point;
import railproof.run.RunData;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.SafeState;

/** The program may die between any two bytes: every point acknowledged before must be there afterwards. */
class KilledRunTest {
    private final Path data;

    KilledRunTest(@TempDir Path data) {
        this.data = data;
    }

    @ParameterizedTest(name = "seed {0}")
    @ValueSource(longs = {101, 102})
    void killedAtAnyByteEveryAcknowledgedPointIsThere(long seed) throws IOException, BadFileException {
        RandomRuns.Script script = new RandomRuns(seed).script(3);
        RecordingStore store = new RecordingStore().withoutForcing();
        List<Integer> stepsWhenAcknowledged = new ArrayList<>();
        Path folder = run(store, script, stepsWhenAcknowledged);
        int stepsWhenOpen = stepsWhenAcknowledged.get(0);

        Path replayed = data.resolve("replayed");
        Replay replay = new Replay(folder, replayed);
        int states = 0;
        for (int step = 0; step < store.steps.size(); step++) {
            if (store.steps.get(step) instanceof RecordingStore.Write write && step >= stepsWhenOpen) {
                // all bytes but the last one by one; the last one belongs to the finished step
                for (int i = 0; i < write.bytes().length - 1; i++) {
                    replay.append(write.file(), new byte[] {write.bytes()[i]});
                    check(script, replayed, acknowledged(stepsWhenAcknowledged, script, step), seed);
                    states++;
                }
                replay.append(write.file(), new byte[] {write.bytes()[write.bytes().length - 1]});
            } else {
                replay.apply(store.steps.get(step));
            }
            if (step >= stepsWhenOpen - 1) {
                check(script, replayed, acknowledged(stepsWhenAcknowledged, script, step + 1), seed);
                states++;
            }
        }
        assertTrue(states > 1500, "checked only " + states + " states");
        assertEquals(script.whole().outcome(), RunFolder.read(replayed).outcome());
    }

    @Test
    void afterAPowerCutThatLosesAllThatWasNotForcedEveryAcknowledgedPointIsThere()
            throws IOException, BadFileException {
        RandomRuns.Script script = new RandomRuns(111).script(6);
        RecordingStore store = new RecordingStore().withoutForcing();
        List<Integer> stepsWhenAcknowledged = new ArrayList<>();
        Path folder = run(store, script, stepsWhenAcknowledged);
        for (int cut = stepsWhenAcknowledged.get(0); cut <= store.steps.size(); cut++) {
            Path replayed = data.resolve("cut" + cut);
            Replay replay = new Replay(folder, replayed);
            Map<Path, Integer> lastForce = new HashMap<>();
            for (int step = 0; step < cut; step++) {
                if (store.steps.get(step) instanceof RecordingStore.Force force) {
                    lastForce.put(force.file(), step);
                }
            }
            for (int step = 0; step < cut; step++) {
                boolean lost = store.steps.get(step) instanceof RecordingStore.Write write
                        && step > lastForce.getOrDefault(write.file(), -1);
                if (!lost) {
                    replay.apply(store.steps.get(step));
                }
            }
            check(script, replayed, acknowledged(stepsWhenAcknowledged, script, cut), 111);
        }
    }

    @Test
    void beforeTheHeaderIsWrittenTheFolderIsNoRun() throws IOException {
        RandomRuns.Script script = new RandomRuns(121).script(1);
        RecordingStore store = new RecordingStore().withoutForcing();
        List<Integer> stepsWhenAcknowledged = new ArrayList<>();
        Path folder = run(store, script, stepsWhenAcknowledged);
        Path replayed = data.resolve("replayed");
        Replay replay = new Replay(folder, replayed);
        for (RecordingStore.Step step : store.steps) {
            replay.apply(step);
            if (step instanceof RecordingStore.Rename rename && rename.to().endsWith("run.json")) {
                return;
            }
            BadFileException e = assertThrows(BadFileException.class, () -> RunFolder.read(replayed));
            assertTrue(String.valueOf(e.getMessage()).contains("run.json: is missing"), String.valueOf(e.getMessage()));
        }
    }

    @Test
    void aTornLineIsDroppedAndSaidInANote() throws IOException, BadFileException {
        RandomRuns.Script script = new RandomRuns(131).script(4);
        Path folder = RunFolderRoundTripTest.write(data, script);
        Files.delete(folder.resolve("end.json"));
        byte[] bytes = Files.readAllBytes(folder.resolve("points.csv"));
        Files.write(folder.resolve("points.csv"), Arrays.copyOf(bytes, bytes.length - 3));
        RunData run = RunFolder.read(folder);
        assertEquals(script.whole().points().subList(0, 3), run.points());
        RunEvent.Note note = (RunEvent.Note) run.events().get(run.events().size() - 1);
        assertEquals(RunEvent.Note.Level.WARNING, note.level());
        assertTrue(
                note.text().matches("points.csv:\\d+:1: the last line is not finished; it was dropped"), note.text());
    }

    @Test
    void aTornLineInARunThatEndedIsAProblem() throws IOException {
        Path folder = RunFolderRoundTripTest.write(data, new RandomRuns(132).script(4));
        byte[] bytes = Files.readAllBytes(folder.resolve("points.csv"));
        Files.write(folder.resolve("points.csv"), Arrays.copyOf(bytes, bytes.length - 3));
        assertThrows(BadFileException.class, () -> RunFolder.read(folder));
    }

    /** How many points were acknowledged when that many steps were done. */
    private static int acknowledged(List<Integer> stepsWhenAcknowledged, RandomRuns.Script script, int stepsDone) {
        int points = 0;
        for (int i = 0; i < script.events().size(); i++) {
            if (script.events().get(i) instanceof RunEvent.PointTaken
                    && stepsWhenAcknowledged.get(i + 1) <= stepsDone) {
                points++;
            }
        }
        return points;
    }

    private static void check(RandomRuns.Script script, Path folder, int acknowledged, long seed)
            throws BadFileException {
        RunData run = RunFolder.read(folder);
        List<Point> found = run.points();
        assertTrue(found.size() >= acknowledged, "seed " + seed + ": " + found.size() + " of " + acknowledged);
        assertEquals(script.whole().points().subList(0, found.size()), found);
        if (!Files.exists(folder.resolve("end.json"))) {
            assertEquals(RunOutcome.End.INCOMPLETE, run.outcome().end());
            assertEquals(SafeState.UNKNOWN, run.outcome().safeState());
        }
    }

    /** Writes a run; the list holds the number of disk steps after opening and after each event. */
    private Path run(RecordingStore store, RandomRuns.Script script, List<Integer> stepsWhenAcknowledged)
            throws IOException {
        try (RunFolderWriter writer = RunFolderWriter.open(store, data.resolve("real"), script.header())) {
            stepsWhenAcknowledged.add(store.steps.size());
            for (RunEvent event : script.events()) {
                writer.append(event);
                stepsWhenAcknowledged.add(store.steps.size());
            }
            return writer.folder();
        }
    }

    /** Does the steps again in another folder. */
    private record Replay(Path from, Path to) {
        Path there(Path file) {
            return to.resolve(from.relativize(file).toString());
        }

        void append(Path file, byte[] bytes) throws IOException {
            try (OutputStream out = Files.newOutputStream(there(file), StandardOpenOption.APPEND)) {
                out.write(bytes);
            }
        }

        void apply(RecordingStore.Step step) throws IOException {
            if (step instanceof RecordingStore.Folder folder) {
                Files.createDirectories(there(folder.folder()));
            } else if (step instanceof RecordingStore.Create create) {
                Files.write(there(create.file()), new byte[0]);
            } else if (step instanceof RecordingStore.Write write) {
                append(write.file(), write.bytes());
            } else if (step instanceof RecordingStore.Rename rename) {
                Files.move(
                        there(rename.from()),
                        there(rename.to()),
                        StandardCopyOption.ATOMIC_MOVE,
                        StandardCopyOption.REPLACE_EXISTING);
            }
        }
    }
}
