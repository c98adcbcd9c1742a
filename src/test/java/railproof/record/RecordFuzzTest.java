package railproof.record;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import railproof.Mutator;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.run.Point;

/** Whatever a run folder's files hold, reading them ends in a record or in located problems. */
@Timeout(value = 5, unit = TimeUnit.MINUTES)
class RecordFuzzTest {
    private static final long SEED = Long.getLong("railproof.fuzz.seed", 20_261_125);
    private static final String[] CSV_WORDS = {
        "\"", "\"\"", ",", "\r\n", "\n", "\r", "=", "@", "'", "Infinity", "1e9999", "-0", "true", "no-load", "\u0000"
    };
    private static final String[] JSON_WORDS = {
        "{",
        "}",
        "[",
        "]",
        "\"",
        ":",
        ",",
        "null",
        "1e999",
        "-",
        "\\u0000",
        "\\ud800",
        "event",
        "elapsed_s",
        "true",
        "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[["
    };

    @TempDir
    private Path data = Path.of("");

    @Test
    void anyTableReadsOrIsReported() throws Exception {
        new Mutator("csv", SEED, CSV_WORDS).feed(5_000, RecordFuzzTest::table);
    }

    @Test
    @Tag("slow")
    void aHundredThousandTablesReadOrAreReported() throws Exception {
        new Mutator("csv", SEED + 1, CSV_WORDS).feed(100_000, RecordFuzzTest::table);
    }

    @Test
    void anyEventReadsOrIsReported() throws Exception {
        new Mutator("json", SEED, JSON_WORDS).feed(5_000, RecordFuzzTest::event);
    }

    @Test
    @Tag("slow")
    void aHundredThousandEventsReadOrAreReported() throws Exception {
        new Mutator("json", SEED + 1, JSON_WORDS).feed(100_000, RecordFuzzTest::event);
    }

    @Test
    @Tag("slow")
    void twoThousandDamagedRunFoldersReadOrAreReported() throws Exception {
        Path folder = RunFolderRoundTripTest.write(data, new RandomRuns(SEED).script(6));
        List<String> files = List.of("run.json", "points.csv", "events.jsonl", "end.json", "waveforms/0000.csv");
        Random random = new Random(SEED);
        for (String file : files) {
            Path path = folder.resolve(file);
            byte[] good = Files.readAllBytes(path);
            Mutator mutator = new Mutator(file.endsWith(".csv") ? "csv" : "json", SEED);
            for (int i = 0; i < 400; i++) {
                byte[] foreign = mutator.next();
                int at = random.nextInt(good.length);
                byte[] bad = new byte[at + foreign.length];
                System.arraycopy(good, 0, bad, 0, at);
                System.arraycopy(foreign, 0, bad, at, foreign.length);
                Files.write(path, bad);
                read(folder);
            }
            Files.write(path, good);
        }
    }

    private static void read(Path folder) {
        try {
            RunFolder.read(folder);
        } catch (BadFileException e) {
            showable(e.problems());
        }
    }

    private static void showable(List<Problem> problems) {
        assertTrue(!problems.isEmpty());
        for (Problem problem : problems) {
            assertTrue(
                    problem.text().length() < 5_000,
                    "message of " + problem.text().length() + " characters");
            assertTrue(problem.text().chars().noneMatch(Character::isISOControl), problem.text());
        }
    }

    private static void table(byte[] input) {
        List<Problem> problems = new ArrayList<>();
        List<Point> points = new ArrayList<>();
        for (RunFormat format : RunFormat.values()) {
            PointsTable.read(new String(input, StandardCharsets.ISO_8859_1), format, problems, points);
            points.clear();
        }
        problems.forEach(problem -> showable(List.of(problem)));
    }

    private static void event(byte[] input) {
        List<Problem> problems = new ArrayList<>();
        Json.parse("events.jsonl", 1, new String(input, StandardCharsets.ISO_8859_1), problems)
                .ifPresent(json -> EventJson.line(json, RunFormat.CURRENT));
        problems.forEach(problem -> showable(List.of(problem)));
    }
}
