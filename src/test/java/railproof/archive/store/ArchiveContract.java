package railproof.archive.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import railproof.archive.ArchivedCheck;
import railproof.archive.ArchivedRun;
import railproof.archive.RunFilter;
import railproof.archive.SampleRuns;

/** What every archive does, whichever database is under it. */
abstract class ArchiveContract {
    private static final long SEED = 20261125;

    /** A fresh archive. */
    abstract ArchiveAddress address() throws Exception;

    @Test
    void givesBackWhatItTookIn() throws Exception {
        try (Archive archive = Archive.open(address())) {
            List<Archive.Entry> entries = entries(0, 20);
            archive.ingest(entries);

            List<ArchivedRun> newestFirst =
                    new ArrayList<>(entries.stream().map(Archive.Entry::run).toList());
            Collections.reverse(newestFirst);
            assertEquals(newestFirst, archive.runs(RunFilter.ALL, 1000));
            assertEquals(
                    entries.stream().flatMap(entry -> entry.checks().stream()).toList(), archive.checks(RunFilter.ALL));
            assertEquals(20, archive.count(RunFilter.ALL));
        }
    }

    @Test
    void takingTheSameInAgainChangesNothing() throws Exception {
        try (Archive archive = Archive.open(address())) {
            archive.ingest(entries(0, 20));
            List<ArchivedCheck> once = archive.checks(RunFilter.ALL);
            List<Archive.Entry> again = new ArrayList<>(entries(0, 20));
            Collections.shuffle(again, new Random(SEED));
            archive.ingest(again);
            archive.ingest(again);
            assertEquals(20, archive.count(RunFilter.ALL));
            assertEquals(once, archive.checks(RunFilter.ALL));
        }
    }

    @Test
    void replacesARunThatWasAddedTo() throws Exception {
        try (Archive archive = Archive.open(address())) {
            Archive.Entry entry = SampleRuns.entry("a", 1);
            archive.ingest(List.of(entry));
            ArchivedRun signed = signed(entry.run(), "m. k.");
            archive.ingest(List.of(new Archive.Entry(signed, entry.checks().subList(0, 2))));
            assertEquals(List.of(signed), archive.runs(RunFilter.ALL, 10));
            assertEquals(2, archive.checks(RunFilter.ALL).size());
        }
    }

    @Test
    void filtersByEverythingItKnows() throws Exception {
        try (Archive archive = Archive.open(address())) {
            List<Archive.Entry> entries = entries(0, 60);
            archive.ingest(entries);
            ArchivedRun one = entries.get(30).run();
            check(archive, entries, filter(Optional.of(one.unitSerial()), Optional.empty(), Optional.empty()));
            check(archive, entries, filter(Optional.empty(), Optional.of(one.profileId()), Optional.empty()));
            check(archive, entries, filter(Optional.empty(), Optional.of(one.profileId()), Optional.of("fail")));
            check(archive, entries, filter(Optional.empty(), Optional.empty(), Optional.of("pass")));
            check(
                    archive,
                    entries,
                    new RunFilter(
                            Optional.empty(),
                            Optional.empty(),
                            Optional.empty(),
                            Optional.of("as-left"),
                            Optional.of(one.startedAt()),
                            Optional.of(one.startedAt().plusSeconds(5 * 1700L)),
                            Optional.of(false)));
        }
    }

    private static RunFilter filter(Optional<String> unit, Optional<String> type, Optional<String> verdict) {
        return new RunFilter(
                unit, type, verdict, Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
    }

    private static void check(Archive archive, List<Archive.Entry> entries, RunFilter filter) throws ArchiveException {
        List<ArchivedRun> expected = entries.stream()
                .map(Archive.Entry::run)
                .filter(run -> fits(run, filter))
                .toList();
        List<ArchivedRun> found = new ArrayList<>(archive.runs(filter, 1000));
        Collections.reverse(found);
        assertEquals(expected, found);
        assertEquals(expected.size(), archive.count(filter));
    }

    private static boolean fits(ArchivedRun run, RunFilter filter) {
        return filter.unitSerial().map(run.unitSerial()::equals).orElse(true)
                && filter.profileId().map(run.profileId()::equals).orElse(true)
                && filter.verdict().map(run.verdict()::equals).orElse(true)
                && filter.stage().map(run.stage()::equals).orElse(true)
                && filter.from().map(from -> !run.startedAt().isBefore(from)).orElse(true)
                && filter.until().map(until -> run.startedAt().isBefore(until)).orElse(true);
    }

    @Test
    void textIsTextWhateverItHolds() throws Exception {
        try (Archive archive = Archive.open(address())) {
            String odd = "'; DROP TABLE runs; -- \" \\ % _ ü 漢 \uD83D\uDE00 :unit ? <ids>";
            Archive.Entry entry = SampleRuns.entry("a", 1);
            archive.ingest(List.of(new Archive.Entry(signed(entry.run(), odd), entry.checks())));
            archive.ingest(List.of(SampleRuns.entry("a", 2)));
            assertEquals(odd, archive.runs(RunFilter.ALL, 10).get(1).signedBy());
            assertEquals(Set.of(), archive.known(List.of(odd)));
        }
    }

    @Test
    void takesInAllOrNothing() throws Exception {
        try (Archive archive = Archive.open(address())) {
            Archive.Entry good = SampleRuns.entry("a", 1);
            ArchivedCheck check = good.checks().get(0);
            Archive.Entry twice = new Archive.Entry(SampleRuns.entry("a", 2).run(), List.of(check, check));
            assertThrows(ArchiveException.class, () -> archive.ingest(List.of(good, twice)));
            assertEquals(0, archive.count(RunFilter.ALL));
            archive.ingest(List.of(good));
            assertEquals(1, archive.count(RunFilter.ALL));
        }
    }

    @Test
    void knowsManyNamesAtOnce() throws Exception {
        try (Archive archive = Archive.open(address())) {
            archive.ingest(entries(0, 3));
            List<String> names = IntStream.range(0, 1700)
                    .mapToObj(n -> SampleRuns.entry("a", n).run().runId())
                    .toList();
            assertEquals(Set.copyOf(names.subList(0, 3)), archive.known(names));
        }
    }

    @Test
    void eightBenchesOpenAndWriteAFreshArchiveAtOnce() throws Exception {
        ArchiveAddress address = address();
        int each = 40;
        List<Thread> benches = new ArrayList<>();
        List<String> troubles = Collections.synchronizedList(new ArrayList<>());
        for (int bench = 0; bench < 8; bench++) {
            String name = "bench" + bench;
            Thread thread = new Thread(() -> write(address, name, each, troubles), name);
            thread.start();
            benches.add(thread);
        }
        for (Thread bench : benches) {
            bench.join();
        }
        assertEquals(List.of(), troubles);
        try (Archive archive = Archive.open(address)) {
            assertEquals(8 * each + each, archive.count(RunFilter.ALL));
            assertEquals(9 * each * 12, archive.checks(RunFilter.ALL).size());
        }
    }

    /** Runs of its own, and the same ones as all others. */
    private static void write(ArchiveAddress address, String bench, int count, List<String> troubles) {
        try (Archive archive = Archive.open(address)) {
            for (int n = 0; n < count; n++) {
                archive.ingest(List.of(SampleRuns.entry(bench, n)));
                archive.ingest(List.of(SampleRuns.entry("all", n)));
            }
        } catch (ArchiveException e) {
            troubles.add(bench + ": " + e.getMessage());
        }
    }

    static List<Archive.Entry> entries(int from, int to) {
        return IntStream.range(from, to).mapToObj(n -> SampleRuns.entry("a", n)).toList();
    }

    private static ArchivedRun signed(ArchivedRun run, String by) {
        return new ArchivedRun(
                run.key(),
                run.runId(),
                run.folder(),
                run.unitSerial(),
                run.profileId(),
                run.stage(),
                run.kind(),
                run.startedAt(),
                run.endedAt(),
                run.operator(),
                run.rig(),
                run.softwareVersion(),
                run.simulated(),
                run.outcome(),
                run.cause(),
                run.safeState(),
                run.verdict(),
                by,
                Optional.of(Instant.parse("2026-11-25T12:00:00Z")),
                true);
    }
}
