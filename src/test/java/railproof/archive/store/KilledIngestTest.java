package railproof.archive.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.util.HashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.archive.RunFilter;
import railproof.archive.SampleRuns;

/** A process killed with SIGKILL while it takes runs in, again and again: what it said is in is in, wholly. */
@Tag("slow")
class KilledIngestTest {
    private static final long SEED = 20261125;
    private static final int KILLS = 8;
    private static final int AT_ONCE = 5;

    @TempDir
    Path data = Path.of("");

    /** Takes runs in from a number on, five at once, and says each number when it is done. */
    public static void main(String[] arguments) throws ArchiveException {
        int next = Integer.parseInt(arguments[1]);
        try (Archive archive = Archive.open(ArchiveAddress.inFolder(Path.of(arguments[0])))) {
            System.out.println("open");
            while (true) {
                archive.ingest(IntStream.range(next, next + AT_ONCE)
                        .mapToObj(n -> SampleRuns.entry("a", n))
                        .toList());
                next += AT_ONCE;
                System.out.println(next);
                System.out.flush();
            }
        }
    }

    @Test
    void theArchiveIsConsistentWheneverItsWriterDies() throws Exception {
        Random random = new Random(SEED);
        int said = 0;
        for (int kill = 0; kill < KILLS; kill++) {
            said = killedAfter(said, 1 + random.nextInt(40), random.nextInt(4000));
            try (Connection connection =
                            DriverManager.getConnection("jdbc:sqlite:" + data.resolve(ArchiveAddress.FILE));
                    Statement statement = connection.createStatement();
                    ResultSet rows = statement.executeQuery("PRAGMA integrity_check")) {
                assertEquals("ok", rows.getString(1));
            }
            try (Archive archive = Archive.open(ArchiveAddress.inFolder(data))) {
                List<String> keys = archive.runs(RunFilter.ALL, 1_000_000).stream()
                        .map(run -> run.key())
                        .toList();
                assertEquals(keys.size(), Set.copyOf(keys).size());
                assertEquals(0, keys.size() % AT_ONCE, "all or nothing of what was taken in at once");
                Set<String> known = new HashSet<>(keys);
                for (int n = 0; n < said; n++) {
                    assertTrue(known.contains(SampleRuns.entry("a", n).run().key()), "run " + n + " seed " + SEED);
                }
                Set<Long> checks = Set.copyOf(archive.checks(RunFilter.ALL).stream()
                        .collect(Collectors.groupingBy(check -> check.runKey(), Collectors.counting()))
                        .values());
                assertEquals(Set.of(12L), checks);
            }
        }
        System.out.println("killed " + KILLS + " times, " + said + " runs in, seed " + SEED);
    }

    private int killedAfter(int from, int transactions, int microseconds) throws Exception {
        Process writer = new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-cp",
                        System.getProperty("java.class.path"),
                        KilledIngestTest.class.getName(),
                        data.toString(),
                        String.valueOf(from))
                .redirectError(ProcessBuilder.Redirect.INHERIT)
                .start();
        int said = from;
        try (BufferedReader lines =
                new BufferedReader(new InputStreamReader(writer.getInputStream(), StandardCharsets.UTF_8))) {
            assertEquals("open", lines.readLine());
            for (int i = 0; i < transactions; i++) {
                said = Integer.parseInt(lines.readLine());
            }
            TimeUnit.MICROSECONDS.sleep(microseconds);
            // by its handle: the process object would close its output with it
            writer.toHandle().destroyForcibly();
            for (String line = lines.readLine(); line != null; line = lines.readLine()) {
                said = Integer.parseInt(line);
            }
        }
        writer.waitFor();
        return said;
    }
}
