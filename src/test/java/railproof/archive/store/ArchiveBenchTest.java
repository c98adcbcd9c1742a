package railproof.archive.store;

import java.io.File;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.archive.ArchivedRun;
import railproof.archive.RunFilter;
import railproof.archive.SampleRuns;
import railproof.archive.TypeStatistics;

/** How an archive grows: rate of taking in, time of a history query, at 1,000, 10,000 and 100,000 runs. */
@Tag("bench")
class ArchiveBenchTest {
    private static final int[] SIZES = {1_000, 10_000, 100_000};
    private static final int QUERIES = 200;

    @TempDir
    Path data = Path.of("");

    @Test
    void sqlite() throws Exception {
        measure("SQLite", ArchiveAddress.inFolder(data));
        File file = data.resolve(ArchiveAddress.FILE).toFile();
        System.out.printf(Locale.ROOT, "SQLite file: %.1f MB%n", file.length() / 1e6);
    }

    @Test
    void postgresql() throws Exception {
        try (PostgresServer server = new PostgresServer()) {
            measure("PostgreSQL", server.fresh());
        }
    }

    private static void measure(String name, ArchiveAddress address) throws ArchiveException {
        System.out.printf(
                Locale.ROOT,
                "%-10s %8s %12s %14s | history p50 / p95, ms: %s%n",
                name,
                "runs",
                "rate, 1/s",
                "one by one",
                "newest, unit, type, type+verdict, type+month; statistics of a type, ms");
        try (Archive archive = Archive.open(address)) {
            int taken = 0;
            for (int size : SIZES) {
                long start = System.nanoTime();
                int from = taken;
                for (; taken < size; taken += 200) {
                    archive.ingest(IntStream.range(taken, taken + 200)
                            .mapToObj(n -> SampleRuns.entry("a", n))
                            .toList());
                }
                double rate = (size - from) / ((System.nanoTime() - start) / 1e9);
                start = System.nanoTime();
                for (int n = 0; n < 100; n++) {
                    archive.ingest(List.of(SampleRuns.entry("a", n)));
                }
                double single = 100 / ((System.nanoTime() - start) / 1e9);
                StringBuilder line = new StringBuilder();
                for (int kind = 0; kind < 5; kind++) {
                    line.append(query(archive, size, kind)).append("  ");
                }
                start = System.nanoTime();
                RunFilter type = filter(Optional.empty(), Optional.of("tape-24v"), Optional.empty(), Optional.empty());
                List<ArchivedRun> runs = archive.runs(type, Integer.MAX_VALUE);
                TypeStatistics.of("tape-24v", runs, archive.checks(type));
                double statistics = (System.nanoTime() - start) / 1e6;
                System.out.printf(
                        Locale.ROOT,
                        "%-10s %8d %12.0f %14.0f | %s; %.0f (%d runs)%n",
                        name,
                        size,
                        rate,
                        single,
                        line,
                        statistics,
                        runs.size());
            }
        }
    }

    private static String query(Archive archive, int size, int kind) throws ArchiveException {
        Random random = new Random(kind);
        List<Double> times = new ArrayList<>();
        for (int i = 0; i < QUERIES; i++) {
            ArchivedRun some = SampleRuns.entry("a", random.nextInt(size)).run();
            Optional<String> type = Optional.of(some.profileId());
            RunFilter filter =
                    switch (kind) {
                        case 0 -> RunFilter.ALL;
                        case 1 ->
                            filter(
                                    Optional.of(some.unitSerial()),
                                    Optional.empty(),
                                    Optional.empty(),
                                    Optional.empty());
                        case 2 -> filter(Optional.empty(), type, Optional.empty(), Optional.empty());
                        case 3 -> filter(Optional.empty(), type, Optional.of("fail"), Optional.empty());
                        default -> filter(Optional.empty(), type, Optional.empty(), Optional.of(some));
                    };
            long start = System.nanoTime();
            archive.runs(filter, 50);
            times.add((System.nanoTime() - start) / 1e6);
        }
        Collections.sort(times);
        return String.format(Locale.ROOT, "%.2f/%.2f", times.get(QUERIES / 2), times.get(QUERIES * 95 / 100));
    }

    private static RunFilter filter(
            Optional<String> unit, Optional<String> type, Optional<String> verdict, Optional<ArchivedRun> around) {
        return new RunFilter(
                unit,
                type,
                verdict,
                Optional.empty(),
                around.map(run -> run.startedAt()),
                around.map(run -> run.startedAt().plusSeconds(30L * 86400)),
                Optional.empty());
    }
}
